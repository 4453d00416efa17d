"""Turns dimensions into lines and texts, for writers that know no dimension of their own."""

from __future__ import annotations

import math

import numpy as np

from springgeo.drawing.page import AngularDim, Line, LinearDim, Page, Text, number, text_width

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


def _linear(dim: LinearDim, lines: list[Line], texts: list[Text]) -> None:
    k = 1 if dim.upright else 0  # the coordinate measured
    where = dim.base[1 - k]

    def at(along: float, across: float) -> tuple[float, float]:
        return (across, along) if dim.upright else (along, across)

    a, b = dim.start[k], dim.end[k]
    label = dim.label.replace("<>", number(dim.value))
    for point, x in ((dim.start, a), (dim.end, b)):
        side = math.copysign(OVER, where - point[1 - k])
        lines.append(Line(_L, np.array([at(x, point[1 - k]), at(x, where + side)])))
    narrow = b - a < 2 * ARROW + 1
    outside = -1.0 if narrow else 1.0
    lines += [
        _arrow(at(a, where), at(a + outside, where)),
        _arrow(at(b, where), at(b - outside, where)),
    ]
    reach = text_width(label, TEXT) + 1
    low, high = a, b
    if narrow:
        low, high = a - 2 * ARROW, b + 2 * ARROW
    middle = (a + b) / 2
    if dim.out:
        beyond = 2 * ARROW + 0.5 if narrow else 0.5
        middle = a - beyond - reach / 2 if dim.out < 0 else b + beyond + reach / 2
        low, high = min(low, middle - reach / 2), max(high, middle + reach / 2)
    lines.append(Line(_L, np.array([at(low, where), at(high, where)])))
    over = -0.8 if dim.upright else 0.8
    texts.append(Text(_L, at(middle, where + over), label, TEXT, "center", dim.upright))


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
    label = dim.label.replace("<>", f"{number(dim.value, 1)}°")
    out = dim.radius + 1 + 0.5 * text_width(label, TEXT) * abs(math.cos(middle))
    x = dim.centre[0] + out * math.cos(middle)
    y = dim.centre[1] + (out + TEXT / 2) * math.sin(middle) - TEXT / 2
    texts.append(Text(_L, (x, y), label, TEXT, "center"))
