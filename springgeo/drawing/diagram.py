"""The load-length diagram: initial tension, load curve, working points with tolerances."""

from __future__ import annotations

from collections.abc import Callable

from springgeo.drawing.measured import text_width
from springgeo.drawing.page import Page, Text, spread
from springgeo.drawing.rows.table import Box
from springgeo.results.handbook import WorkingPoint
from springgeo.results.loaded import traced
from springgeo.results.measured import measured_points
from springgeo.summary import Summary
from springgeo.text.quantity import force, length
from springgeo.text.shown import Shown, word

# from length and load to the paper
Placing = Callable[[float, float], tuple[float, float]]
_TEXT = 2.5
MOST_POINTS = 6  # working points drawn; the table has all


def points_drawn(summary: Summary) -> list[tuple[int, WorkingPoint]]:
    """Return working points in ascending load with their numbers; spread evenly if many."""
    points = list(measured_points(summary))
    if len(points) <= MOST_POINTS:
        return points
    last = len(points) - 1
    return [points[round(k * last / (MOST_POINTS - 1))] for k in range(MOST_POINTS)]


def draw_diagram(page: Page, box: Box, summary: Summary, shown: Shown) -> None:
    """Draw load over length inside hooks into a box; without loads, the whole curve."""
    s = summary
    free, tension = s.geometry.free_length, s.initial_tension.force
    points = points_drawn(s)
    tolerances = {p.load: p.tolerance_percent for p in s.load_line.along_the_wire[2:]}
    most = max([tension, *(p.load for _, p in points)])
    if not points or not most > 0:  # no loads, or none but zero
        most = s.load_line.curve[-1].load
    curve = traced(s.load_line.curve, most)
    longest = max(x for x, _ in curve)
    names = [("F0", tension)] if tension > 0 else []
    names += [(f"F{k}", p.load) for k, p in points]
    loads = [(f"{n} {shown.quantity(force(v, unit=False))}", v) for n, v in names]
    widest = max((text_width(text, _TEXT) for text, _ in loads), default=0.0)
    left, right, top = box.left + max(24.0, widest + 6), box.right - 12, box.top - 9
    lengths = [
        (f"{n} {shown.quantity(length(v, unit=False))}", v)
        for n, v in [("L0", free), *((f"L{k}", p.length) for k, p in points)]
    ]
    longest_text = max(text_width(text, _TEXT) for text, _ in lengths)
    beside = (longest_text + 2) * len(lengths) <= right + 8 - left
    bottom = box.bottom + (13 if beside else 6 + longest_text)
    span = max(longest - free, 1e-9)
    start = free - 0.18 * span

    def at(length: float, load: float) -> tuple[float, float]:
        x = left + (length - start) / (longest + 0.08 * span - start) * (right - left)
        return x, bottom + load / (1.12 * most) * (top - bottom)

    page.line("DIAGRAM-THIN", (left, top + 3), (left, bottom), (right + 3, bottom))
    page.text("DIAGRAM-THIN", (left - 1, top + 5), f"F, {shown.unit('force')}", _TEXT, "right")
    page.text(
        "DIAGRAM-THIN",
        (box.left + 1.5, box.top + 1.5),
        shown.text(word("LOAD OVER LENGTH (bars: ± F)")),
        _TEXT,
    )
    page.text(
        "DIAGRAM-THIN", (right + 11, bottom + 1.2), f"L, {shown.unit('length')}", _TEXT, "right"
    )
    page.line("DIAGRAM", *(at(*x) for x in curve))
    for _, p in points:
        here = at(p.length, p.load)
        page.line("DIAGRAM-THIN", (left, here[1]), here, (here[0], bottom))
        _tolerance_bar(page, at, p, tolerances.get(p.load))
    if tension > 0:
        page.line("DIAGRAM-THIN", (left, at(free, tension)[1]), at(free, tension))
    heights = [(text, at(free, v)[1]) for text, v in loads]
    _left_labels(page, left, heights, bottom, top)
    places = [(text, at(v, 0.0)[0]) for text, v in lengths]
    _bottom_labels(page, bottom, places, (left, right + 8), longest_text if beside else None)


def _tolerance_bar(page: Page, at: Placing, point: WorkingPoint, percent: float | None) -> None:
    if percent is None:
        return
    low = at(point.length, point.load * (1 - percent / 100))
    high = at(point.length, point.load * (1 + percent / 100))
    page.line("DIAGRAM", low, high)
    for x, y in (low, high):
        page.line("DIAGRAM", (x - 1, y), (x + 1, y))


def _left_labels(
    page: Page, x: float, labels: list[tuple[str, float]], low: float, high: float
) -> None:
    labels = sorted(labels, key=lambda e: e[1])
    for (text, y), place in zip(
        labels, spread([e[1] for e in labels], 4.4, low, high), strict=True
    ):
        page.line("DIAGRAM-THIN", (x, y), (x - 2, place), (x - 3, place))
        page.text("DIAGRAM-THIN", (x - 4, place - _TEXT / 2), text, _TEXT, "right")


def _bottom_labels(
    page: Page,
    y: float,
    labels: list[tuple[str, float]],
    span: tuple[float, float],
    beside: float | None,
) -> None:
    """Write the lengths below the axis: side by side, each ``beside`` mm wide, else upright."""
    labels = sorted(labels, key=lambda e: e[1])
    low, high = span
    gap, high = (1.7 * _TEXT, high) if beside is None else (beside + 2, high - beside / 2)
    for (text, x), place in zip(
        labels, spread([e[1] for e in labels], gap, low, high), strict=True
    ):
        page.line("DIAGRAM-THIN", (x, y), (place, y - 2), (place, y - 2.6))
        if beside is None:
            at = (place + _TEXT / 2, y - 3.2 - text_width(text, _TEXT))
            page.texts.append(Text("DIAGRAM-THIN", at, text, _TEXT, turned=True))
        else:
            page.text("DIAGRAM-THIN", (place, y - 3.6 - _TEXT), text, _TEXT, "center")
