"""The load-length diagram: initial tension, straight line, working points with tolerances."""

from __future__ import annotations

from typing import Any

from springgeo.drawing.data_rows import points_shown
from springgeo.drawing.page import Page, number, spread
from springgeo.drawing.table import Box
from springgeo.summary import Summary

_TEXT = 2.5


def draw_diagram(page: Page, box: Box, summary: Summary) -> None:
    """Draw load over length inside hooks into a box; without loads the line runs to 3 F0."""
    s = summary
    free, tension = s.geometry.free_length, s.initial_tension.force
    points = points_shown(s)
    tolerances = {p.load: p.tolerance_percent for p in s.load_line.handbook[2:]}
    most = max([tension, *(p.load for _, p in points)])
    if not points or not most > 0:  # no loads, or none but zero
        most = max(3 * tension, 1.0)
    longest = max(max((p.length for _, p in points), default=0.0), free + (most - tension) / s.rate)
    left, bottom = box.left + 24, box.bottom + 13
    right, top = box.right - 12, box.top - 9
    span = max(longest - free, 1e-9)
    start = free - 0.18 * span

    def at(length: float, load: float) -> tuple[float, float]:
        x = left + (length - start) / (longest + 0.08 * span - start) * (right - left)
        return x, bottom + load / (1.12 * most) * (top - bottom)

    page.line("DIAGRAM-THIN", (left, top + 3), (left, bottom), (right + 3, bottom))
    page.text("DIAGRAM-THIN", (left - 1, top + 5), "F in N", _TEXT, "right")
    page.text(
        "DIAGRAM-THIN",
        (box.left + 1.5, box.top + 1.5),
        "LOAD OVER LENGTH (bars: ± F)",
        _TEXT,
    )
    page.text("DIAGRAM-THIN", (right + 11, bottom - 10.5), "L in mm", _TEXT, "right")
    page.line("DIAGRAM", at(free, 0.0), at(free, tension), at(longest, most))
    for _, p in points:
        here = at(p.length, p.load)
        page.line("DIAGRAM-THIN", (left, here[1]), here, (here[0], bottom))
        _tolerance_bar(page, at, p, tolerances.get(p.load))
    names = [("F0", tension)] if tension > 0 else []
    names += [(f"F{k}", p.load) for k, p in points]
    if tension > 0:
        page.line("DIAGRAM-THIN", (left, at(free, tension)[1]), at(free, tension))
    _left_labels(page, left, [(n, v, at(free, v)[1]) for n, v in names], bottom, top)
    lengths = [("L0", free)] + [(f"L{k}", p.length) for k, p in points]
    _bottom_labels(page, bottom, [(n, v, at(v, 0.0)[0]) for n, v in lengths], left, right + 8)


def _tolerance_bar(page: Page, at: Any, point: Any, percent: float | None) -> None:
    if percent is None:
        return
    low = at(point.length, point.load * (1 - percent / 100))
    high = at(point.length, point.load * (1 + percent / 100))
    page.line("DIAGRAM", low, high)
    for x, y in (low, high):
        page.line("DIAGRAM", (x - 1, y), (x + 1, y))


def _left_labels(
    page: Page, x: float, labels: list[tuple[str, float, float]], low: float, high: float
) -> None:
    labels = sorted(labels, key=lambda e: e[2])
    for (name, value, y), place in zip(
        labels, spread([e[2] for e in labels], 4.4, low, high), strict=True
    ):
        page.line("DIAGRAM-THIN", (x, y), (x - 2, place), (x - 3, place))
        page.text("DIAGRAM-THIN", (x - 4, place - _TEXT / 2), f"{name} {value:.4g}", _TEXT, "right")


def _bottom_labels(
    page: Page, y: float, labels: list[tuple[str, float, float]], low: float, high: float
) -> None:
    labels = sorted(labels, key=lambda e: e[2])
    for (name, value, x), place in zip(
        labels, spread([e[2] for e in labels], 19, low, high - 8), strict=True
    ):
        page.line("DIAGRAM-THIN", (x, y), (place, y - 2), (place, y - 2.6))
        page.text(
            "DIAGRAM-THIN", (place, y - 3.6 - _TEXT), f"{name} {number(value)}", _TEXT, "center"
        )
