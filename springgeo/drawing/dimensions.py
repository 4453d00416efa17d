"""The dimensions on the views: lengths along the axis, diameters, openings, loop angle."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from springgeo.drawing.layout import View, Views
from springgeo.drawing.measured import text_width, wrap
from springgeo.drawing.page import AngularDim, LinearDim, Page, Point
from springgeo.drawing.rows.row import Sheet, plus_minus
from springgeo.drawing.rows.table import Box
from springgeo.drawing.settle import settle
from springgeo.making.ruling import ruling
from springgeo.specification.end_names import Side
from springgeo.summary import Summary
from springgeo.text.quantity import degrees as in_degrees
from springgeo.text.quantity import length
from springgeo.text.shown import Shown, word
from springgeo.trade.dimension_tolerance import (
    diameter_allowance,
    general_allowance,
    length_allowance,
)
from springgeo.trade.practice import practice

# from here on a spring is remarked to hang askew, wire diameters
_ASKEW = practice("lean_askew")
TEXT = 2.5
_ROW = 8.0
_LABEL = 3.5
# how wide the words over the end view may be, mm
_WORDS = 58.0


def draw_dimensions(page: Page, views: Views, of: Sheet, shown: Shown, field: Box) -> bool:
    """Draw centre lines, end letters and every dimension of the views, inside a field.

    Returns whether all of them found room.
    """
    _centre_lines(page, views)
    _lengths(page, views.front, of, shown)
    _wire(page, views.front, of.summary, shown)
    other = views.second
    g = of.summary.geometry
    near = (
        views.scale * (g.hook_length_first - (g.opening_first or 0.0)) < 5 * TEXT
    )  # to the arrows of d
    row = 2 if near else 1
    _opening(page, views.front, of.summary, shown, "first", row)
    _opening(page, other or views.front, of.summary, shown, "second", 1 if other else row + 1)
    _diameters(page, views.end, of, shown)
    _angle(page, views.end, of, shown, field)
    boxes = [v.box for v in (views.front, views.end, views.second) if v is not None]
    return settle(page, field, boxes)


class _Label(NamedTuple):
    """What a dimension says: ``text`` with ``<>`` for the value ``shown``; in other units."""

    text: str
    shown: str
    second: str

    @property
    def width(self) -> float:
        """On paper, mm."""
        return max(text_width(t, TEXT) for t in (self.text.replace("<>", self.shown), self.second))


def _label(
    text: str,
    value: float,
    shown: Shown,
    off: float | None = None,
    *,
    within: float | None = None,
) -> _Label:
    """Return a label with its tolerance, lengths without the unit, which the title block names.

    ``within``: a tolerance that stands elsewhere on the sheet.
    """

    def said(reader: Shown, x: float, digits: int | None = None) -> str:
        return reader.quantity(length(x, digits, unit=False))

    def valued(reader: Shown) -> str:
        return reader.quantity(length(value, unit=False, within=within))

    def around(reader: Shown) -> str:
        return "" if off is None else f" ±{said(reader, off, 2)}"

    first, second = replace(shown, second=None), ""
    if shown.second is not None:
        other = replace(first, units=shown.second)
        second = f"[{valued(other)}{around(other)}]"
    return _Label(text + around(first), valued(first), second)


def _rows(shown: Shown) -> float:
    """Return how far dimension lines lie apart, mm: room for texts on one side, or on both."""
    return 6.0 if shown.second is None else 8.0


def _centre_lines(page: Page, views: Views) -> None:
    for view in (views.front, views.second):
        if view is None:
            continue
        box, y = view.box, view.origin[1]
        page.line("CENTRE", (box.left - 3, y), (box.right + 3, y))
        for x, letter, across in ((box.left - 4.5, "1", "right"), (box.right + 4.5, "2", "left")):
            page.text("DIMENSION", (x, y - _LABEL / 2), letter, _LABEL, across)  # type: ignore[arg-type]
    box, (x, y) = views.end.box, views.end.origin
    page.line("CENTRE", (box.left - 3, y), (box.right + 3, y))
    page.line("CENTRE", (x, box.bottom - 3), (x, box.top + 3))


def _along(
    page: Page,
    view: View,
    label: _Label,
    ends: tuple[float, float],
    at: tuple[float, float],
    key: str,
) -> None:
    """Dimension two places on the axis: from height ``at[0]``, line at height ``at[1]``, mm."""
    (x0, y), (x1, _) = view.at(ends[0], 0.0), view.at(ends[1], 0.0)
    value = ends[1] - ends[0]
    fits = x1 - x0 >= label.width + 5
    middle = view.bounds[0] + view.bounds[2]
    out = 0 if fits else (-1 if ends[0] + ends[1] < middle else 1)
    y = at[0]
    page.linear.append(
        _dimension((x0, y), (x1, y), (x0, at[1]), label, value, key, out, upright=False)
    )


def _dimension(
    start: Point,
    end: Point,
    base: Point,
    label: _Label,
    value: float,
    key: str,
    out: int,
    *,
    upright: bool,
) -> LinearDim:
    text, shown, second = label
    return LinearDim(start, end, base, upright, value, text, key, out, shown, second)


def _lengths(page: Page, view: View, of: Sheet, shown: Shown) -> None:
    g, top = of.summary.geometry, view.box.top
    faces = (g.hook_length_first, g.hook_length_first + g.body_length)
    row = top + _ROW
    at = (top + 1, row)
    if g.hook_length_first > 0:
        label = _hook(of, "first", shown)
        _along(page, view, label, (0.0, faces[0]), at, "geometry.hook_length_first")
    body = view.at(faces[1], 0.0)[0] - view.at(faces[0], 0.0)[0]
    label, step = _label("(LK <>)", g.body_length, shown), _rows(shown)
    tight = body < label.width + 5
    middle, upper = (row + step, row + 2 * step) if tight else (row, row + 2.0 + step)
    _along(page, view, label, faces, (top + 1, middle), "geometry.body_length")
    if g.hook_length_second > 0:
        label = _hook(of, "second", shown)
        end = faces[1] + g.hook_length_second
        _along(page, view, label, (faces[1], end), at, "geometry.hook_length_second")
    whole, at = of.model.geometry, (top + 1, upper)
    if whole.askew >= _ASKEW * g.wire_diameter:
        # L0 runs askew, from contact to contact: it stands in the table
        label = _label("(LH+LK+LH <>)", g.height, shown)
        _along(page, view, label, (0.0, g.height), at, "geometry.height")
        return
    off = plus_minus(length_allowance(g.free_length, g.index, of.trade))
    # where loads at lengths rule, the free length follows
    label = _label("(L0 <>)", g.free_length, shown)
    if not of.loads_rule:
        label = _label("L0 <>", g.free_length, shown, off)
    _along(page, view, label, (0.0, g.free_length), at, "geometry.free_length")


def _hook(of: Sheet, side: Side, shown: Shown) -> _Label:
    """Return the label of a hook's length, in brackets where a fitted part comes to it.

    Its tolerance stands in the table.
    """
    end = of.model.geometry.first if side == "first" else of.model.geometry.second
    off = None if end.parts else plus_minus(general_allowance(end.hook_length))
    return _label("(LH <>)" if end.parts else "LH <>", end.hook_length, shown, within=off)


def _wire(page: Page, view: View, s: Summary, shown: Shown) -> None:
    g, bottom = s.geometry, view.box.bottom
    left, _, right, _ = view.bounds
    # where the outermost thing is the wire of a hook
    if g.hook_length_first > 0 and g.loop_radius_first is not None:
        ends = (left, left + g.wire_diameter)
    elif g.hook_length_second > 0 and g.loop_radius_second is not None:
        ends = (right - g.wire_diameter, right)
    else:  # the first active coil, where it passes below the axis
        first = g.hook_length_first + g.pitch / 2
        ends = (first, first + g.wire_diameter)
    label = _label("d <>", g.wire_diameter, shown)
    _along(page, view, label, ends, (bottom - 1, bottom - _ROW), "geometry.wire_diameter")


def _opening(page: Page, view: View, s: Summary, shown: Shown, side: Side, row: int) -> None:
    g = s.geometry
    m = g.opening_first if side == "first" else g.opening_second
    mouth = g.mouth_first if side == "first" else g.mouth_second
    if m is None or m <= 0.0 or mouth is None:  # nothing hangs in a straight end: LH says it
        return
    face = g.hook_length_first if side == "first" else g.hook_length_first + g.body_length
    ends = (face - m, face) if side == "first" else (face, face + m)
    bottom = view.box.bottom
    (x0, _), (x1, _) = view.at(ends[0], 0.0), view.at(ends[1], 0.0)
    label = _label("e <>", m, shown)
    fits = x1 - x0 >= label.width + 5
    base, key = bottom - _ROW - (row - 1) * _rows(shown), f"geometry.opening_{side}"
    out = 0 if fits else (1 if side == "first" else -1)
    foot = bottom - 1
    page.linear.append(
        _dimension((x0, foot), (x1, foot), (x0, base), label, m, key, out, upright=False)
    )


def _diameters(page: Page, view: View, of: Sheet, shown: Shown) -> None:
    g, box, x = of.summary.geometry, view.box, view.origin[0]
    off = plus_minus(diameter_allowance(g.mean_diameter, g.index, of.trade))
    rules = ruling(of.model.spec)
    for name, symbol, value, offset in (
        ("mean", "D", g.mean_diameter, box.right + 9.5),
        ("outer", "De", g.outer_diameter, box.right + 10.5 + _rows(shown)),
        ("inner", "Di", g.inner_diameter, box.left - 8),
    ):
        label = _label(f"({symbol} Ø<>)", value, shown)
        if name == rules:
            label = _label(f"{symbol} Ø<>", value, shown, off)
        low, high = view.at(0.0, -value / 2)[1], view.at(0.0, value / 2)[1]
        side = 1.0 if offset > x else -1.0
        near, key = x + side * 0.5, f"geometry.{name}_diameter"
        out = 0 if high - low >= label.width + 1 else (1 if name == "mean" else -1)
        page.linear.append(
            _dimension(
                (near, low), (near, high), (offset, low), label, value, key, out, upright=True
            )
        )


def _angle(page: Page, view: View, of: Sheet, shown: Shown, field: Box) -> None:
    angle = of.summary.geometry.loop_angle
    if angle is None:
        return
    centre = view.origin
    # round everything, for a loop may stand out on one side of the axis
    shape = np.concatenate([*view.seen.lines, *view.seen.fittings])
    radius = view.scale * float(np.hypot(*shape.T).max()) + 3.5
    if min(angle, 180 - angle) < 1.0:
        words = word("loops in line")
        facing = of.model.geometry.facing
        if facing is not None:
            same = abs(math.remainder(facing, 2 * math.pi)) < math.pi / 2
            one, two = word("hooks open to one side"), word("hooks open to opposite sides")
            words = one if same else two
        lines = wrap(shown.text(words), TEXT, _WORDS)
        half = max(text_width(line, TEXT) for line in lines) / 2 + 1.5
        x = min(max(centre[0], field.left + half), field.right - half)
        for k, line in enumerate(reversed(lines)):
            y = centre[1] + radius + 2 + k * 1.6 * TEXT
            page.text("DIMENSION", (x, y), line, TEXT, "center")
        return
    a = math.radians(angle)
    direction = view.sight.flat(np.array([[math.cos(a), math.sin(a), 0.0]]))[0]
    to = math.degrees(math.atan2(direction[1], direction[0]))
    start, end = (90.0, to) if (to - 90.0) % 360 < 180 else (to, 90.0)
    for degrees in (90.0, to):
        t = math.radians(degrees)
        tip = (centre[0] + (radius + 1) * math.cos(t), centre[1] + (radius + 1) * math.sin(t))
        page.line("CENTRE", centre, tip)
    end = start + (end - start) % 360
    text = shown.quantity(in_degrees(round(angle, 1)))
    page.angular.append(
        AngularDim(centre, start, end, radius, angle, "<>", "geometry.loop_angle", text)
    )
