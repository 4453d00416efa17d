"""Stress along the wire at the highest load: each hook and the body in a diagram of its own."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.report.chart import Chart, legend
from springgeo.report.paint import Mark, marks
from springgeo.report.value import number
from springgeo.statics import WireStress
from springgeo.statics.regions import REGIONS
from springgeo.summary import Summary
from springgeo.text.words import piece_words

CURVES = {
    "von_mises": ("line3", "von Mises"),
    "axial": ("line2", "bending (greatest axial)"),
    "shear": ("line1", "shear (greatest)"),
}
_KIND = {"axial": "line2", "shear": "line1"}
_BANDS = {"A": "loop", "B": "bend", "body": "body", "elsewhere": "straight"}


def stress_charts(s: Summary, unit: WireStress, load: float, diameter: float) -> str:
    """Return the diagrams and one legend as HTML."""
    found = marks(unit)
    # coils that still press on each other keep the stress they were wound with
    acting = np.where(
        unit.region == REGIONS.index("body"), max(load, s.initial_tension.force), load
    )
    curves = {kind: acting * getattr(unit.stress, kind) for kind in CURVES}
    book = [v for side in ("body", "hook") for v in _handbook(s, side)]
    top = max(1.18 * max(*book, *(float(v.max()) for v in curves.values())), 1e-6)
    parts = [
        _panel(s, unit, load, curves, top, w, title, name, [m for m in found if m.side == side])
        for side, title, name, w in _windows(unit, found, diameter)
    ]
    entries = [(kind, "line", words) for kind, words in CURVES.values()]
    if s.points:
        entries.append(("book dashed", "line", "handbook: body, or hook bending and torsion"))
    if found:
        entries.append(("point", "circle", "where hook bending and torsion are greatest"))
    return f'<div class="three">{"".join(parts)}</div>{legend(entries)}'


def _windows(
    unit: WireStress, found: tuple[Mark, ...], diameter: float
) -> list[tuple[str, str, str, tuple[float, float]]]:
    """Return side, title, name and range of arc length of every diagram."""
    body = unit.s[unit.region == REGIONS.index("body")]
    low, high = float(body[0]), float(body[-1])
    sides = {m.side for m in found}
    panels = []
    if "a" in sides:
        panels.append(
            ("a", "Hook at the first end", "stress-a", (float(unit.s[0]), low + 2 * diameter))
        )
    panels.append(("body", "Body", "stress-body", (low, high)))
    if "b" in sides:
        panels.append(
            ("b", "Hook at the second end", "stress-b", (high - 2 * diameter, float(unit.s[-1])))
        )
    return panels


def _panel(
    s: Summary,
    unit: WireStress,
    load: float,
    curves: dict[str, Array],
    top: float,
    window: tuple[float, float],
    title: str,
    name: str,
    here: list[Mark],
) -> str:
    inside = (unit.s >= window[0] - 1e-9) & (unit.s <= window[1] + 1e-9)
    chart = Chart(
        x=window,
        y=(0.0, top),
        x_name="mm along the wire from the first end's cut",
        y_name="stress, MPa",
        title=f"{title}: stress along the wire at {number(load)} N",
        told=_told(load, here, curves["von_mises"][inside]),
        name=name,
    )
    for region, low, high in _runs(unit, window):
        chart.stripe(low, high, f"region-{region}", _BANDS[region])
    for value in _handbook(s, "body" if not here else here[0].side):
        chart.line([(window[0], value), (window[1], value)], "book dashed")
    # far denser than a page can show: a point a pixel is enough, the peaks kept
    rows = np.flatnonzero(inside)
    for kind, (line, _) in CURVES.items():
        inner = list(zip(unit.s[rows], curves[kind][rows], strict=True))
        # stations need not lie on the diagram's edges
        first, last = ((x, float(np.interp(x, unit.s, curves[kind]))) for x in window)
        chart.line(_thinned([first, *inner, last], chart), line)
    _marks(chart, here, load)
    return f'<figure><figcaption class="panel">{title}</figcaption>{chart.svg()}</figure>'


def _marks(chart: Chart, here: list[Mark], load: float) -> None:
    """Draw hook bending and torsion; of two that are near, the lower is named below its mark."""
    spots = {m.point: chart.at(m.s, load * m.per_newton) for m in here}
    for m in here:
        value, (u, v) = load * m.per_newton, spots[m.point]
        chart.mark(m.s, value, f"point {_KIND[m.kind]}-mark")
        left = u < (chart.edges[0] + chart.edges[1]) / 2
        others = [place for point, place in spots.items() if point != m.point]
        below = any(abs(a - u) < 70 and 0 <= v - b < 30 for a, b in others)
        chart.label(
            m.s,
            value,
            f"{m.words} {number(value, 3)}",
            "start" if left else "end",
            9.0 if left else -9.0,
            17.0 if below else -5.0,
        )


def _told(load: float, here: list[Mark], von_mises: Array) -> str:
    words = f"Greatest von Mises {number(float(von_mises.max()), 3)} MPa."
    for m in here:
        kind = "bending" if m.kind == "axial" else "shear"
        words += (
            f" Hook {m.words}: {kind} {number(load * m.per_newton, 3)} MPa in "
            f"{piece_words(m.label)}, "
            f"{number(m.s)} mm along the wire."
        )
    return words


def _handbook(s: Summary, side: str) -> list[float]:
    if not s.points:
        return []
    p = s.points[-1]
    if side == "body":
        return [p.body_shear]
    return [v for v in (p.hook_bending_a, p.hook_torsion_b) if v is not None]


def _runs(unit: WireStress, window: tuple[float, float]) -> list[tuple[str, float, float]]:
    """Return (region, first, last) of each unbroken stretch, mm, within a window."""
    cuts = np.flatnonzero(unit.region[1:] != unit.region[:-1]) + 1
    found = []
    for i, j in zip([0, *cuts], [*cuts, len(unit.s) - 1], strict=True):
        low, high = max(unit.s[i], window[0]), min(unit.s[j], window[1])
        if high > low:
            found.append((REGIONS[unit.region[i]], float(low), float(high)))
    return found


def _thinned(points: list[tuple[float, float]], chart: Chart) -> list[tuple[float, float]]:
    """Return the points less those that lie within a third of a unit of the line through."""
    kept = points[:1]
    for before, p, after in zip(points, points[1:], points[2:], strict=False):
        (u0, v0), (u, v), (u1, v1) = (chart.at(*q) for q in (kept[-1], p, after))
        straight = v0 + (v1 - v0) * ((u - u0) / (u1 - u0) if u1 > u0 else 0.0)
        turns = (p[1] - before[1]) * (after[1] - p[1]) < 0
        if turns or abs(v - straight) > 0.3 or u - u0 > 40:
            kept.append(p)
    return [*kept, points[-1]]
