"""Turns dimensions into lines and texts, for writers that know no dimension of their own."""

from __future__ import annotations

import math

import numpy as np

from springgeo.drawing.measured import text_width
from springgeo.drawing.page import AngularDim, Line, LinearDim, Page, Text
from springgeo.drawing.rows.table import Box

ARROW, TEXT, OVER = 2.5, 2.5, 1.5
# between a dimension line and the texts beside it, mm
_OFF = 0.8
_L = "DIMENSION"


def flatten(page: Page) -> tuple[list[Line], list[Text]]:
    """Return every line and text of a page, its dimensions drawn out.

    A line of one dimension is broken where it would cross the text of another.
    """
    lines: list[Line] = []
    texts = [t for t in page.texts if t.layer == _L]
    for linear in page.linear:
        _linear(linear, lines, texts)
    for angular in page.angular:
        _angular(angular, lines, texts)
    boxes = [text_box(t) for t in texts]
    lines = [piece for line in lines for piece in _broken(line, boxes)]
    others = [t for t in page.texts if t.layer != _L]
    return [*page.lines, *lines], [*others, *texts]


def _broken(line: Line, boxes: list[Box]) -> list[Line]:
    """Return what is left of a line along the sheet's edges outside of texts."""
    if len(line.points) != 2 or line.filled:
        return [line]
    k = 1 if line.points[0, 0] == line.points[1, 0] else 0  # the way it runs
    across, (low, high) = float(line.points[0, 1 - k]), sorted(line.points[:, k].tolist())
    hidden = (b for b in boxes if b[1 - k] < across < b[3 - k] and b[k] < high and b[k + 2] > low)
    pieces, at = [], low
    for start, end in (*sorted((b[k], b[k + 2]) for b in hidden), (high, high)):
        if start > at:
            pieces.append((at, start))
        at = max(at, end)
    points = np.repeat(line.points[None], len(pieces), axis=0)
    points[:, :, k] = np.reshape(pieces, (-1, 2))
    return [Line(line.layer, p) for p in points]


def text_box(text: Text) -> Box:
    """Return the box of a line of text, mm."""
    w, (x, y) = text_width(text.text, text.height), text.at
    start = {"left": 0.0, "center": -w / 2, "right": -w}[text.across]
    if text.turned:
        return Box(x - text.height, y + start, x + 0.3 * text.height, y + start + w)
    return Box(x + start, y - 0.3 * text.height, x + start + w, y + text.height)


def drawn(dim: LinearDim | AngularDim) -> list[Line]:
    """Return the lines of a dimension: its own and those that extend the shape to it."""
    lines: list[Line] = []
    if isinstance(dim, LinearDim):
        _linear(dim, lines, [])
    else:
        _angular(dim, lines, [])
    return lines


def labels_of(dim: LinearDim | AngularDim) -> list[Text]:
    """Return the texts of a dimension where they stand: one, or one on each side."""
    if isinstance(dim, AngularDim):
        texts: list[Text] = []
        _angular(dim, [], texts)
        return texts
    middle = (_ends(dim)[0] + _ends(dim)[1]) / 2
    if dim.out:
        a, b = _ends(dim)
        beyond = (2 * ARROW if _narrow(dim) else 0.0) + 0.5 + dim.aside
        half = _half(dim)
        middle = a - beyond - half if dim.out < 0 else b + beyond + half
    where = dim.base[0 if dim.upright else 1]
    found = []
    for text, off in ((dim.text, _OFF), (dim.second, -_OFF - TEXT)):
        if text:
            at = (where - off, middle) if dim.upright else (middle, where + off)
            found.append(Text(_L, at, text, TEXT, "center", dim.upright))
    return found


def _half(dim: LinearDim) -> float:
    return (max(text_width(t, TEXT) for t in (dim.text, dim.second)) + 1) / 2


def _ends(dim: LinearDim) -> tuple[float, float]:
    k = 1 if dim.upright else 0  # the coordinate measured
    return dim.start[k], dim.end[k]


def _narrow(dim: LinearDim) -> bool:
    a, b = _ends(dim)
    return b - a < 2 * ARROW + 1


def _linear(dim: LinearDim, lines: list[Line], texts: list[Text]) -> None:
    k = 1 if dim.upright else 0
    where = dim.base[1 - k]

    def at(along: float, across: float) -> tuple[float, float]:
        return (across, along) if dim.upright else (along, across)

    a, b = _ends(dim)
    for point, x in ((dim.start, a), (dim.end, b)):
        side = math.copysign(OVER, where - point[1 - k])
        lines.append(Line(_L, np.array([at(x, point[1 - k]), at(x, where + side)])))
    narrow = _narrow(dim)
    outside = -1.0 if narrow else 1.0
    lines += [
        _arrow(at(a, where), at(a + outside, where)),
        _arrow(at(b, where), at(b - outside, where)),
    ]
    low, high = (a - 2 * ARROW, b + 2 * ARROW) if narrow else (a, b)
    labels = labels_of(dim)
    if dim.out:
        middle, half = labels[0].at[k], _half(dim)
        low, high = min(low, middle - half), max(high, middle + half)
    lines.append(Line(_L, np.array([at(low, where), at(high, where)])))
    texts += labels


def _arrow(tip: tuple[float, float], toward: tuple[float, float]) -> Line:
    p = np.array(tip)
    u = np.array(toward) - p
    u /= np.hypot(*u)
    n = np.array([-u[1], u[0]])
    back = p + ARROW * u
    return Line(_L, np.array([p, back + ARROW / 6 * n, back - ARROW / 6 * n, p]), filled=True)


def _angular(dim: AngularDim, lines: list[Line], texts: list[Text]) -> None:
    t = np.radians(np.linspace(dim.start, dim.end, 61))
    c = np.array(dim.centre)
    arc = c + dim.radius * np.stack([np.cos(t), np.sin(t)], axis=1)
    lines.append(Line(_L, arc))
    if dim.radius * (t[-1] - t[0]) > 2 * ARROW:
        step = max(1, int(ARROW / dim.radius / (t[1] - t[0])))
        for i, j in ((0, step), (60, 60 - step)):
            lines.append(_arrow(tuple(arc[i]), tuple(arc[j])))
    half = (dim.end - dim.start) / 2
    upper = min(half, 35.0)  # near the vertical, clear of the diameters beside the view
    middle = math.radians(90 + upper if abs(dim.start - 90) < 1e-9 else 90 - upper)
    label = dim.text
    out = dim.radius + 1 + 0.5 * text_width(label, TEXT) * abs(math.cos(middle))
    x = dim.centre[0] + out * math.cos(middle)
    y = dim.centre[1] + (out + TEXT / 2) * math.sin(middle) - TEXT / 2
    texts.append(Text(_L, (x, y), label, TEXT, "center"))
