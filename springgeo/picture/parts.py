"""The parts of fitted ends in the small picture: shaded outlines between the strands of wire."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from springgeo.chart.element import element, path
from springgeo.colours import FITTING, WIRE, between
from springgeo.curve.frame import Array
from springgeo.fittings import Part, Plate, Turned, in_sheet, plate_hole, plate_rim

# bands of a round part from its edge to its middle: share of the radius, tone from dark to light
_BANDS = (1.0, 0.25), (0.82, 0.55), (0.55, 0.9)


class Shown(NamedTuple):
    """A piece of the picture with its depth, mm away from the viewer."""

    depth: float
    svg: str


@dataclass(frozen=True)
class View:
    """From the side, turned about the axis by ``turn`` rad; ``low`` is the corner at (0, 0)."""

    turn: float
    low: Array
    scale: float
    height: float

    @property
    def across(self) -> Array:
        """The direction of space that is down on the picture."""
        return np.array([np.cos(self.turn), np.sin(self.turn), 0.0])

    @property
    def away(self) -> Array:
        """The direction of view."""
        return np.array([-np.sin(self.turn), np.cos(self.turn), 0.0])

    def flat(self, points: Array) -> Array:
        """Return ``(n, 2) float, mm`` on the picture's plane for ``(n, 3)``."""
        return np.column_stack([points[:, 2], points @ self.across])

    def paper(self, points: Array) -> Array:
        """Return ``(n, 2)`` in pixels."""
        moved: Array = (self.flat(points) - self.low) * self.scale
        return moved

    def depth(self, points: Array) -> Array:
        """Return ``(n,) float, mm``."""
        found: Array = points @ self.away
        return found


def body_of(part: Part, view: View) -> Shown:
    """Return a part without its rod; its depth is that of its axis."""
    depth = float(view.depth(part.placed(np.zeros((1, 3))))[0])
    form = part.form
    return Shown(
        depth, _turned(part, form, view) if isinstance(form, Turned) else _plate(part, form, view)
    )


def _turned(part: Part, form: Turned, view: View) -> str:
    r, z = np.array(form.profile).T
    foot = view.paper(part.placed(np.column_stack([0 * z, 0 * z, z])))
    drawn = []
    for share, tone in _BANDS:
        up = np.column_stack([0 * r, share * r * view.scale])
        fill = _tone(tone)
        drawn.append(_path([np.concatenate([foot - up, (foot + up)[::-1]])], fill, share == 1.0))
    return "".join(drawn)


def _plate(part: Part, form: Plate, view: View) -> str:
    """Return the walls as quadrilaterals, and over them the face that is near."""
    half = form.thickness / 2
    if float(part.axes[:, 1] @ view.away) > 0:
        half = -half
    rings = plate_rim(form), plate_hole(form)
    near, far = ([view.paper(part.placed(in_sheet(x, y))) for x in rings] for y in (half, -half))
    walls = [
        np.array([a[i - 1], a[i], b[i], b[i - 1]])
        for a, b in zip(near, far, strict=True)
        for i in range(len(a))
    ]
    # all outlines, then all walls over them: no seams within
    drawn = [_path([w], _tone(0.1), edged=edged) for edged in (True, False) for w in walls]
    return "".join(drawn) + _path(near, _tone(0.8), edged=True)


def _path(rings: list[Array], fill: str, edged: bool) -> str:
    way = "".join(path(ring, closed=True) for ring in rings)
    return element(
        "path", d=way, fill=fill, fill_rule="evenodd", stroke=WIRE.edge if edged else None
    )


def _tone(light: float) -> str:
    return between(FITTING.dark, FITTING.light, light)
