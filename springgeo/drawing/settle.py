"""Finds room for the labels of dimensions: beside their arrows on one side, the other, or further.

Dimensions are placed one after the other: the shorter before the longer that span them, which
stand further out, and those with their text between the arrows first. Each takes the first place
that is clear of the views, of other texts, of the field's edge, and where no line of one dimension
crosses the text of another; if there is none, the place with the least of that. Where something is
left, each is placed anew beside the others, a few times; a shorter one does not mind those that
span it, for they make room, but for the lines that lead to them: these pass it wherever they stand,
and its text stands beyond them if it has to.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from springgeo.curve.frame import Array
from springgeo.drawing.arrows import drawn, labels_of, text_box
from springgeo.drawing.page import LinearDim, Page
from springgeo.drawing.rows.table import Box

# how far dimension lines may move out from the view, mm
_STEPS = (0.0, 6.0, 8.0, 12.0, 16.0, 18.0, 24.0)
_AIR = 0.4
# how far from its arrows a text may stand, mm; how much further out than asked a dimension line
_ASIDE, _FAR = (0.0, 3.0, 6.0, 9.0, 13.0, 18.0, 24.0, 32.0), 40.0
# what a text off the field or on another weighs against a line through it
_WORSE = 20
# two texts on one line read as one if nearer than this, mm, and what that weighs
_BESIDE, _CLOSE = 4.0, 3
# what a dimension line through a view weighs, or one that stands nearer to it than a shorter one
_THROUGH, _INSIDE = 10, 10
# how much further out the longer stands at least, mm; ends of spans nearer than this are the same
_FURTHER, _SAME = 4.0, 1e-6
# how near a diameter's dimension line may come to another view than its own, where the letters of
# the ends stand, and any line to the field's edge, mm
_ELSEWHERE, _EDGE = 6.0, 0.5
# how often each may be placed anew, the others standing
_ROUNDS = 4


def settle(page: Page, field: Box, views: Iterable[Box]) -> bool:
    """Move the labels of a page's linear dimensions to where they are clear, if there is room.

    Returns whether there was, for them and for all else that stands on the field.
    """
    fixed = [text_box(t) for t in page.texts if t.layer == "DIMENSION"]
    fixed += [text_box(t) for dim in page.angular for t in labels_of(dim)]
    paper = _Paper(field, list(views), fixed, _angular_lines(page))
    asked = list(page.linear)
    places = range(len(asked))
    spanned = [[k for k, e in enumerate(asked) if _spans(dim, e)] for dim in asked]
    passing = [[b for k, e in enumerate(asked) if i in spanned[k] for b in _led(e)] for i in places]
    order = sorted(places, key=lambda i: (len(spanned[i]), asked[i].out != 0))
    found: dict[int, _Placed] = {}
    whole = 0
    for _ in range(_ROUNDS):
        whole = 0
        for i in order:
            others = [found[k] for k in found if k != i and i not in spanned[k]]
            shorter = [found[k].dim for k in spanned[i]]
            cost, found[i] = paper.best(asked[i], others, shorter, passing[i])
            whole += cost
        if whole == 0:
            break
    page.linear[:] = [found[i].dim for i in range(len(asked))]
    return whole == 0 and not any(paper.amiss(b) for b in fixed)


@dataclass(frozen=True)
class _Placed:
    """A dimension where it stands, its texts and its lines as boxes."""

    dim: LinearDim
    texts: list[Box]
    lines: list[Box]

    @classmethod
    def of(cls, dim: LinearDim) -> _Placed:
        """Measure a dimension."""
        # its lines run along the sheet's edges
        lines = [_around(line.points) for line in drawn(dim)]
        return cls(dim, [text_box(t) for t in labels_of(dim)], lines)


@dataclass(frozen=True)
class _Paper:
    """What stands on the sheet beside the linear dimensions."""

    field: Box
    views: list[Box]
    texts: list[Box]
    lines: list[Box]

    def amiss(self, b: Box) -> bool:
        """Return whether a text that cannot be moved is off the field or on a view."""
        return _off(b, self.field) or _hits(b, self.views, 0.0) > 0

    def _elsewhere(self, dim: LinearDim) -> list[Box]:
        """Return what a diameter's dimension line keeps clear of: views beside its own."""
        if not dim.upright:
            return []
        own = min(self.views, key=lambda b: max(b.left - dim.start[0], dim.start[0] - b.right))
        return [
            Box(b.left - _ELSEWHERE, b.bottom, b.right + _ELSEWHERE, b.top)
            for b in self.views
            if b is not own
        ]

    def best(
        self,
        dim: LinearDim,
        others: list[_Placed],
        spanned: list[LinearDim],
        passing: list[Box],
    ) -> tuple[int, _Placed]:
        """Return what a dimension costs where it costs least beside the others, and it there.

        ``passing`` are the lines that lead past it to those that span it.
        """
        texts = [*self.texts, *(b for o in others for b in o.texts)]
        lines = [*self.lines, *passing, *(b for o in others for b in o.lines)]
        elsewhere = self._elsewhere(dim)
        found: list[tuple[int, _Placed]] = []
        for place in map(_Placed.of, _places(dim, spanned)):
            cost = sum(_hits(line, texts, 0.0) for line in place.lines)
            cost += _THROUGH * _hits(place.lines[-1], [*self.views, *elsewhere], 0.0)
            cost += sum(_off(line, self.field, _EDGE) for line in place.lines)
            cost += _INSIDE * sum(_out(place.dim) < _out(e) + _FURTHER for e in spanned)
            for b in place.texts:
                worse = _off(b, self.field) + _hits(b, self.views, _AIR) + _hits(b, texts, _AIR)
                cost += _WORSE * worse + _hits(b, lines, 0.0)
                cost += _CLOSE * _hits(_longer(b, upright=dim.upright), texts, 0.0)
            found.append((cost, place))
            if cost == 0:
                break
        return min(found, key=lambda e: e[0])


def _span(dim: LinearDim) -> tuple[float, float]:
    k = 1 if dim.upright else 0
    low, high = sorted((dim.start[k], dim.end[k]))
    return low, high


def _out(dim: LinearDim) -> float:
    """Return how far the dimension line stands out from what it measures, mm."""
    k = 0 if dim.upright else 1
    return abs(dim.base[k] - dim.start[k])


def _spans(dim: LinearDim, other: LinearDim) -> bool:
    """Return whether one measures more of a view than the other, on the same side of it."""
    k = 0 if dim.upright else 1
    away, across = dim.base[k] - dim.start[k], other.base[k] - other.start[k]
    if dim.upright != other.upright or dim.start[k] != other.start[k] or away * across < 0:
        return False
    (low, high), (a, b) = _span(dim), _span(other)
    return low <= a + _SAME and b <= high + _SAME and b - a < high - low - _SAME


def _places(dim: LinearDim, spanned: list[LinearDim]) -> Iterator[LinearDim]:
    """Yield places, the wanted ones first; at last the one just beyond those that it spans."""
    just = [max(_out(e) for e in spanned) + _FURTHER + _SAME - _out(dim)] if spanned else []
    steps = (*_STEPS, *just)
    sides = (0, 1, -1) if dim.out == 0 else (dim.out, -dim.out)
    k = 0 if dim.upright else 1
    away = 1.0 if dim.base[k] > dim.start[k] else -1.0
    for aside, step in product(_ASIDE, steps):
        base = list(dim.base)
        base[k] += away * step
        for out in sides if aside == 0.0 else (s for s in sides if s):
            yield replace(dim, base=(base[0], base[1]), out=out, aside=aside)


def _led(dim: LinearDim) -> Iterator[Box]:
    """Yield the lines that lead out to a dimension, wherever it will stand."""
    k = 0 if dim.upright else 1
    low, high = dim.start[k], dim.base[k] + math.copysign(_FAR, dim.base[k] - dim.start[k])
    for point in (dim.start, dim.end):
        ends = np.array([point, point], dtype=float)
        ends[:, k] = low, high
        yield _around(ends)


def _longer(b: Box, *, upright: bool) -> Box:
    """Return a text's box with the room it wants before and after it on its line."""
    x, y = (0.0, _BESIDE) if upright else (_BESIDE, 0.0)
    return Box(b.left - x, b.bottom - y, b.right + x, b.top + y)


def _off(b: Box, field: Box, air: float = 1.0) -> bool:
    across = b.left < field.left + air or b.right > field.right - air
    return across or b.bottom < field.bottom + air or b.top > field.top - air


def _hits(b: Box, others: list[Box], air: float) -> int:
    return sum(
        b.left - air < o.right
        and b.right + air > o.left
        and b.bottom - air < o.top
        and b.top + air > o.bottom
        for o in others
    )


def _angular_lines(page: Page) -> list[Box]:
    lines = [line.points for dim in page.angular for line in drawn(dim)]
    return [_around(p[i : i + 2]) for p in lines for i in range(len(p) - 1)]


def _around(points: Array) -> Box:
    return Box(*points.min(axis=0).tolist(), *points.max(axis=0).tolist())
