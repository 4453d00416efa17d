"""Finds room for the labels of dimensions: beside their arrows on one side, the other, or further.

Labels are placed one after the other, those that stand between their arrows first. Each takes the
first place that is clear of the views, of other texts, of the field's edge, and where no line of
one dimension crosses the text of another; if there is none, the place with the least of that.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from springgeo.curve.frame import Array
from springgeo.drawing.arrows import drawn, labels_of, text_box
from springgeo.drawing.page import LinearDim, Page
from springgeo.drawing.table import Box

# how far dimension lines may move out from the view, mm
_STEPS = (0.0, 6.0, 8.0, 12.0, 16.0, 18.0, 24.0)
_AIR = 0.4
# what a text off the field or on another weighs against a line through it
_WORSE = 20


def settle(page: Page, field: Box, views: Iterable[Box]) -> None:
    """Move the labels of a page's linear dimensions to where they are clear, if there is room."""
    texts = [text_box(t) for t in page.texts if t.layer == "DIMENSION"]
    taken, lines = [*views, *texts], _angular_lines(page)
    order = sorted(range(len(page.linear)), key=lambda i: page.linear[i].out != 0)
    for i in order:
        found = _best(page.linear[i], taken, texts, lines, field)
        page.linear[i] = found
        new = [text_box(t) for t in labels_of(found)]
        taken += new
        texts += new
        lines += _lines(found)


def _best(
    dim: LinearDim, taken: list[Box], texts: list[Box], lines: list[Box], field: Box
) -> LinearDim:
    least, found = None, dim
    for place in _places(dim):
        own = [text_box(t) for t in labels_of(place)]
        cost = _WORSE * sum(_off(b, field) + _hits(b, taken, _AIR) for b in own)
        cost += sum(_hits(b, lines, 0.0) for b in own)
        cost += sum(_hits(line, texts, 0.0) for line in _lines(place))
        if least is None or cost < least:
            least, found = cost, place
        if cost == 0:
            break
    return found


def _places(dim: LinearDim) -> Iterator[LinearDim]:
    sides = (0, 1, -1) if dim.out == 0 else (dim.out, -dim.out)
    k = 0 if dim.upright else 1
    away = 1.0 if dim.base[k] > dim.start[k] else -1.0
    for step in _STEPS:
        base = list(dim.base)
        base[k] += away * step
        for out in sides:
            yield replace(dim, base=(base[0], base[1]), out=out)


def _off(b: Box, field: Box) -> bool:
    across = b.left < field.left + 1 or b.right > field.right - 1
    return across or b.bottom < field.bottom + 1 or b.top > field.top - 1


def _hits(b: Box, others: list[Box], air: float) -> int:
    return sum(
        b.left - air < o.right
        and b.right + air > o.left
        and b.bottom - air < o.top
        and b.top + air > o.bottom
        for o in others
    )


def _lines(dim: LinearDim) -> list[Box]:
    """Return the lines of a dimension, which run along the sheet's edges, as boxes."""
    return [_around(line.points) for line in drawn(dim)]


def _angular_lines(page: Page) -> list[Box]:
    lines = [line.points for dim in page.angular for line in drawn(dim)]
    return [_around(p[i : i + 2]) for p in lines for i in range(len(p) - 1)]


def _around(points: Array) -> Box:
    return Box(*points.min(axis=0).tolist(), *points.max(axis=0).tolist())
