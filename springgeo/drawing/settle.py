"""Finds room for the labels of dimensions: beside their arrows on one side, the other, or further.

Labels are placed one after the other, those that stand between their arrows first; each takes the
first place that is clear of the views, of other texts and of the field's edge.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from springgeo.drawing.arrows import label_of
from springgeo.drawing.measured import text_width
from springgeo.drawing.page import LinearDim, Page, Text
from springgeo.drawing.table import Box

# how far dimension lines may move out from the view, mm
_STEPS = (0.0, 6.0, 12.0, 18.0, 24.0)
_AIR = 0.4


def settle(page: Page, field: Box, views: Iterable[Box]) -> None:
    """Move the labels of a page's linear dimensions to where they are clear, if there is room."""
    taken = [*views, *(text_box(t) for t in page.texts if t.layer == "DIMENSION")]
    order = sorted(range(len(page.linear)), key=lambda i: page.linear[i].out != 0)
    for i in order:
        dim = page.linear[i]
        found = next((d for d in _places(dim) if _clear(d, taken, field)), dim)
        page.linear[i] = found
        taken.append(text_box(label_of(found)))


def text_box(text: Text) -> Box:
    """Return the box of a line of text, mm."""
    w, (x, y) = text_width(text.text, text.height), text.at
    start = {"left": 0.0, "center": -w / 2, "right": -w}[text.across]
    if text.turned:
        return Box(x - text.height, y + start, x + 0.3 * text.height, y + start + w)
    return Box(x + start, y - 0.3 * text.height, x + start + w, y + text.height)


def _places(dim: LinearDim) -> Iterator[LinearDim]:
    sides = (0,) if dim.out == 0 else (dim.out, -dim.out)
    k = 0 if dim.upright else 1
    away = 1.0 if dim.base[k] > dim.start[k] else -1.0
    for step in _STEPS:
        base = list(dim.base)
        base[k] += away * step
        for out in sides:
            yield replace(dim, base=(base[0], base[1]), out=out)


def _clear(dim: LinearDim, taken: list[Box], field: Box) -> bool:
    b = text_box(label_of(dim))
    if b.left < field.left + 1 or b.right > field.right - 1:
        return False
    if b.bottom < field.bottom + 1 or b.top > field.top - 1:
        return False
    return not any(
        b.left - _AIR < o.right
        and b.right + _AIR > o.left
        and b.bottom - _AIR < o.top
        and b.top + _AIR > o.bottom
        for o in taken
    )
