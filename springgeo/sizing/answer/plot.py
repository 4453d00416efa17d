"""A picture of the front as SVG: one panel for each pair of objectives, wires by colour.

Drawn without a plotting library: that takes a tenth of a second where one takes half of the whole
job, and it works where none is installed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np

from springgeo.chart import Axis, Chart, Dots, Item, Label, Marks, keys
from springgeo.chart.element import element, escaped
from springgeo.chart.layout import Layout
from springgeo.chart.pen import INLINE
from springgeo.chart.style import ink, series
from springgeo.chart.svg import panel, rows
from springgeo.colours import SERIES
from springgeo.mechanics.value import Array
from springgeo.sizing.size import Result
from springgeo.text.shown import PLAIN, Shown

# what an axis shows: its words, its kind of quantity, and whether the cost is its reciprocal:
# then more of it is better
AXES: dict[str, tuple[str, str, bool]] = {
    "mass": ("mass", "mass", False),
    "envelope": ("room at the longest length", "bulk", False),
    "margin": ("least margin over the one asked for", "number", True),
    "cost": ("cost, of the mass in hard-drawn wire", "mass", False),
    "free_length": ("free length", "length", False),
    "natural_frequency": ("natural frequency", "frequency", True),
    "in_tolerance": ("spread of the loads over their tolerance", "number", False),
}
WIDE, HIGH, GAP, EDGE, TOP, LETTER = 360.0, 350.0, 20.0, 14.0, 46.0, 11.5
MOST_PANELS = 3
MOST_POINTS = 3000
SUBJECT = ": what is given up for what"


def front_svg(result: Result, shown: Shown = PLAIN) -> str | None:
    """Return the picture; None without a front or with a single objective."""
    charts = front_charts(result, shown)
    if not charts:
        return None
    wide = 2 * EDGE + len(charts) * (WIDE + GAP) - GAP
    panels = []
    for i, chart in enumerate(charts):
        inside = panel(Layout(chart, WIDE, HIGH, LETTER), INLINE)
        place = f"translate({EDGE + i * (WIDE + GAP):g} {TOP:g})"
        panels.append(element("g", inside, transform=place))
    legend, high = rows(keys(*charts), wide - 2 * EDGE, LETTER)
    below = TOP + HIGH + 12
    name = result.found.job.name
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}" height="{below + high + 12:g}" '
        f'viewBox="0 0 {wide:g} {below + high + 12:g}" font-family="sans-serif" '
        f'font-size="{LETTER:g}" fill="{ink("ink").light}">'
        f"<title>{escaped(name)}: the front</title>"
        f'<rect width="100%" height="100%" fill="{ink("card").light}"/>'
        f'<text x="{EDGE:g}" y="26" font-size="15">{escaped(_heading(name, wide))}</text>'
        + "".join(panels)
        + element("g", legend, transform=f"translate({EDGE:g} {below:g})")
        + "</svg>\n"
    )


def _heading(name: str, wide: float) -> str:
    most = int((wide - EDGE) / 8)
    short = name if len(name) <= most else name[: most - 1] + "…"
    return short + SUBJECT if len(name + SUBJECT) <= most else short


def front_charts(result: Result, shown: Shown = PLAIN) -> list[Chart]:
    """Return a diagram for each pair of objectives, at most three; none without a front."""
    found = result.found
    names = found.job.objectives
    if len(names) < 2 or not found.places:
        return []
    every = {n: _value(n, found.costs[:, i]) for i, n in enumerate(names)}
    chosen = {n: _value(n, np.array([w.candidate.cost[n] for w in result.winners])) for n in names}
    axes = {n: _axis(n, np.concatenate([every[n], chosen[n]])) for n in names}
    seen = replace(shown, typeset=True)
    material = np.array([found.wires.material[p.wire] for p in found.places])
    return [
        Chart(
            x=axes[a],
            y=axes[b],
            title=f"{a} against {b}",
            items=(
                *_dots(every[a], every[b], material),
                *_choices(chosen[a], chosen[b]),
            ),
            name=f"{a}-{b}",
        ).shown(seen)
        for a, b in list(combinations(names, 2))[:MOST_PANELS]
    ]


def _value(name: str, costs: Array) -> Array:
    return 1 / costs if AXES[name][2] else costs


def _axis(name: str, values: Array) -> Axis:
    words, kind, more = AXES[name]
    low, high = float(values.min()), float(values.max())
    air = float(np.exp(max(0.04 * np.log(high / low), 0.01)))
    return Axis(
        low / air,
        high * air,
        f"{words} ({'more' if more else 'less'} is better)",
        log=True,
        kind=kind,
    )


def _dots(x: Array, y: Array, material: Array) -> Iterator[Item]:
    """Yield the designs of each wire; those with most designs come first."""
    count = {str(n): int((material == n).sum()) for n in np.unique(material)}
    order = sorted(count, key=lambda n: (-count[n], n))
    # wires beyond the palette share its last colour and one entry
    rest = order[len(SERIES) - 1 :]
    more = f"{len(rest)} other wires"
    every = max(len(material) // MOST_POINTS, 1)
    for i, name in enumerate(order):
        at = np.flatnonzero(material == name)[::every]
        points = tuple((float(a), float(b)) for a, b in zip(x[at], y[at], strict=True))
        yield Dots(points, series(i), more if len(rest) > 1 and name in rest else name)


def _choices(x: Array, y: Array) -> Iterator[Item]:
    """Yield a ring on each choice, and its number."""
    points = tuple((float(a), float(b)) for a, b in zip(x, y, strict=True))
    if points:
        yield Marks(points, "hollow", f"choices 1 to {len(points)}", "ring")
    for n, (a, b) in enumerate(points, start=1):
        yield Label(a, b, str(n))
