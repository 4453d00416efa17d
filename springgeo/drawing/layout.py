"""Which views are drawn, at what standard scale, and where on the sheet."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from typing import Literal, NamedTuple

import numpy as np

from springgeo.curve.frame import Array
from springgeo.drawing.page import Point
from springgeo.drawing.rows.table import Box
from springgeo.drawing.view.broken import NONE, Break, broken, shown_geometry
from springgeo.drawing.view.seen import spring_seen
from springgeo.drawing.view.silhouette import Silhouette
from springgeo.drawing.view.strands import Sight
from springgeo.spring.geometry import Geometry

Projection = Literal["first", "third"]
SCALES = (50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005)


class Room(NamedTuple):
    """Paper kept free for dimensions, mm; ``last`` below the second view."""

    left: float = 16.0
    between: float = 25.0
    right: float = 19.0
    above: float = 23.0
    below: float = 20.0
    last: float = 13.0


# for texts on one side of the dimension lines, and on both
ROOM, WIDER = Room(), Room(22.0, 28.0, 25.0, 30.0, 28.0, 17.0)
# the share of that which may have to do where a greater scale is to be had for it
_LEAST = 0.9
_IN_LINE_DEG = 5.0


@dataclass(frozen=True)
class View:
    """One view: what is seen, and where the frame's origin lies on the sheet.

    ``gap`` is what a broken view leaves out of the axis, ``waves`` are the lines beside it.
    """

    sight: Sight
    seen: Silhouette
    origin: Point
    scale: float
    gap: Break = NONE
    waves: tuple[Array, ...] = ()

    def flat(self, points: Array) -> Array:
        """Return sheet positions ``(n, 2) float, mm`` of points on the view's own plane."""
        moved: Array = points * self.scale + np.asarray(self.origin)
        return moved

    def at(self, right: float, up: float) -> Point:
        """Return the sheet position of a point of the view given in mm of the spring."""
        return self._drawn(right - self.gap.skip * (right > self.gap.at + self.gap.skip / 2), up)

    def _drawn(self, right: float, up: float) -> Point:
        return self.origin[0] + self.scale * right, self.origin[1] + self.scale * up

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of what is seen, in mm of the whole spring."""
        left, bottom, right, top = self.seen.bounds
        return left, bottom, right + self.gap.skip, top

    @property
    def box(self) -> Box:
        """What the silhouette covers on the sheet."""
        left, bottom, right, top = self.seen.bounds
        return Box(*self._drawn(left, bottom), *self._drawn(right, top))


@dataclass(frozen=True)
class Views:
    """The views of a sheet; ``second`` only where the loop planes are not in line."""

    front: View
    end: View
    second: View | None
    scale: float


def scale_text(scale: float) -> str:
    """Return a scale as drawings state it: ``2:1`` or ``1:5``."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"


_FRONT = Sight.of((0, 0, 1), (1, 0, 0))


@cache
def sights(projection: Projection) -> tuple[Sight, Sight, Sight]:
    """Return the front view, the view beside it and the one below, by the projection's rule.

    The front view looks along -y on the loop plane of A. In first angle the end view, to the
    right, looks along +z at end A and the view below is from above; in third angle each is seen
    from the side on which it stands.
    """
    if projection == "first":
        return _FRONT, Sight.of((0, 1, 0), (1, 0, 0)), Sight.of((0, 0, 1), (0, -1, 0))
    return _FRONT, Sight.of((0, -1, 0), (1, 0, 0)), Sight.of((0, 0, 1), (0, 1, 0))


def closer(free: Room) -> Room:
    """Return what is kept free for dimensions at the least: not all need all of it."""
    return Room(*(_LEAST * x for x in free))


def place_views(geometry: Geometry, box: Box, projection: Projection, free: Room = ROOM) -> Views:
    """Return the views at the greatest standard scale that leaves room for the dimensions."""
    geometry, gap = shown_geometry(geometry)
    front, end, below = (spring_seen(geometry, sight) for sight in sights(projection))
    degrees = np.degrees(geometry.angle or 0.0)
    aligned = min(degrees, 180.0 - degrees) < _IN_LINE_DEG
    shapes = [front, end, below]
    two = _scale(shapes, box, free, with_second=False)
    three = 0.0 if aligned else _scale(shapes, box, free, with_second=True)
    second = three >= 0.4 * two
    views = _placed(shapes, box, free, projection, three if second else two, second)
    return _with_gap(views, geometry, gap) if gap.coils else views


def _with_gap(views: Views, geometry: Geometry, gap: Break) -> Views:
    def side(view: View) -> View:
        seen, waves = broken(view.seen, geometry, gap.at)
        return replace(view, seen=seen, gap=gap, waves=waves)

    second = None if views.second is None else side(views.second)
    return replace(views, front=side(views.front), second=second)


def _taken(shapes: list[Silhouette], free: Room, scale: float, second: bool) -> tuple[float, float]:
    (fl, fb, fr, ft), (el, eb, er, et), (_, bb, _, bt) = (s.bounds for s in shapes)
    wide = free.left + free.between + free.right + scale * (fr - fl + er - el)
    high = free.above + free.below + scale * max(ft - fb, et - eb)
    return wide, high + (free.last + scale * (bt - bb) if second else 0.0)


def _scale(shapes: list[Silhouette], box: Box, free: Room, with_second: bool) -> float:
    for scale in SCALES:
        wide, high = _taken(shapes, free, scale, with_second)
        if wide <= box.width and high <= box.height:
            return scale
    return SCALES[-1]


def _placed(
    shapes: list[Silhouette],
    box: Box,
    free: Room,
    projection: Projection,
    scale: float,
    second: bool,
) -> Views:
    wide, high = _taken(shapes, free, scale, second)
    (fl, fb, fr, ft), (el, eb, _, et), (_, _, _, bt) = (s.bounds for s in shapes)
    x = box.left + free.left + 0.5 * max(box.width - wide, 0.0) - scale * fl
    top = box.top - free.above - 0.5 * max(box.height - high, 0.0)
    y = top - scale * max(ft, et)
    x_end = x + scale * fr + free.between - scale * el
    y_below = y + scale * min(fb, eb) - free.below - scale * bt
    front, end, below = sights(projection)
    return Views(
        View(front, shapes[0], (x, y), scale),
        View(end, shapes[1], (x_end, y), scale),
        View(below, shapes[2], (x, y_below), scale) if second else None,
        scale,
    )
