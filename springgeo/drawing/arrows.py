"""Turns dimensions into lines and texts, for writers that know no dimension of their own."""

from __future__ import annotations

import math

import numpy as np

from springgeo.drawing.measured import text_width
from springgeo.drawing.page import AngularDim, Line, LinearDim, Page, Text

ARROW, TEXT, OVER = 2.5, 2.5, 1.5
_L = "DIMENSION"


def flatten(page: Page) -> tuple[list[Line], list[Text]]:
    """Return every line and text of a page, its dimensions drawn out."""
    lines, texts = list(page.lines), list(page.texts)
    for linear in page.linear:
        _linear(linear, lines, texts)
    for angular in page.angular:
        _angular(angular, lines, texts)
    return lines, texts


def label_of(dim: LinearDim) -> Text:
    """Return the text of a linear dimension where it stands."""
    middle = (_ends(dim)[0] + _ends(dim)[1]) / 2
    if dim.out:
        a, b = _ends(dim)
        beyond = (2 * ARROW if _narrow(dim) else 0.0) + 0.5
        half = (text_width(dim.text, TEXT) + 1) / 2
        middle = a - beyond - half if dim.out < 0 else b + beyond + half
    where = dim.base[0 if dim.upright else 1]
    at = (where - 0.8, middle) if dim.upright else (middle, where + 0.8)
    return Text(_L, at, dim.text, TEXT, "center", dim.upright)


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
    label = label_of(dim)
    if dim.out:
        middle, half = label.at[k], (text_width(dim.text, TEXT) + 1) / 2
        low, high = min(low, middle - half), max(high, middle + half)
    lines.append(Line(_L, np.array([at(low, where), at(high, where)])))
    texts.append(label)


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
