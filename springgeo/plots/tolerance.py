"""How springs made to tolerances come out: loads against their limits, and what costs most."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from springgeo.chart import Area, Axis, Chart, Item, Line, Rule
from springgeo.computed import ComputedSpring
from springgeo.message import Message
from springgeo.results.tolerance import Spread, Tolerance
from springgeo.text import quantity as q
from springgeo.text.shown import PLAIN, Shown, said, word
from springgeo.tolerance.inputs import WORDS

if TYPE_CHECKING:
    from matplotlib.figure import Figure

# loads that are drawn; of more the first and the last
_MOST = 4
_BAR, _COSTS = 0.36, "tolerance-costs"


def tolerance(spring: ComputedSpring, tolerances: Mapping[str, object] | None = None) -> Figure:
    """Draw how springs made to tolerances come out; return the figure.

    Parameters
    ----------
    spring : Spring
    tolerances : mapping, optional
        As for ``Spring.tolerance``.

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    SpecError
        As for ``Spring.tolerance``.
    """
    return drawn_tolerance(spring.tolerance(tolerances), spring.shown)


def drawn_tolerance(t: Tolerance, shown: Shown = PLAIN) -> Figure:
    """Draw an answer: a histogram of every load, or of the rate, and the bars of its indices."""
    from springgeo.chart import mpl

    spreads = limited(t)
    charts = [*(histogram(s) for s in spreads), costs(t)]
    figure = mpl.figure(7.2, 2.4 * len(charts) + 0.4)
    figure.suptitle(t.name, fontsize=12, parse_math=False)
    seen = replace(shown, typeset=True)
    panes = figure.subplots(len(charts), 1)
    for chart, axes in zip(charts, panes, strict=True):
        mpl.draw(chart.shown(seen), axes, beside=chart.name == _COSTS)
        names = _names(t) if chart.name == _COSTS else []
        axes.set_yticks(range(len(names)), [seen.text(name) for name in names])
    return figure


def write_plot(t: Tolerance, target: str | os.PathLike[str], shown: Shown = PLAIN) -> Path:
    """Write the picture as PNG, SVG or PDF by its ending; the same bytes for the same answer.

    Raises FileError as `springgeo.chart.mpl.written`, MissingLibraryError without matplotlib.
    """
    from springgeo.chart import mpl

    return mpl.written(target, lambda: drawn_tolerance(t, shown))


def limited(t: Tolerance) -> list[Spread]:
    """Return what is drawn of an answer: what has limits, of many loads the first and the last."""
    found = [s for s in t.spreads if s.limit_low is not None]
    return found if len(found) <= _MOST else [found[0], found[-1]]


def histogram(s: Spread) -> Chart:
    """Return the springs by their load, or by their rate, and the limits."""
    edges, counts = s.histogram.edges, s.histogram.counts
    most = max(counts)
    outline = [(edges[0], 0.0)]
    for low, high, count in zip(edges, edges[1:], counts, strict=False):
        outline += [(low, count / most), (high, count / most)]
    outline.append((edges[-1], 0.0))
    low, high = s.limit_low or s.low, s.limit_high or s.high
    left, right = min(edges[0], low), max(edges[-1], high)
    air = max(0.06 * (right - left), 1e-9)
    kind = "force" if s.quantity == "load" else "rate"
    items: tuple[Item, ...] = (
        Area(outline, "preferred"),
        Line(outline, "edge"),
        Rule(s.nominal, "stop", word("nominal")),
        Rule(low, "limit", word("least")),
        Rule(high, "limit", word("greatest")),
    )
    inside = q.percent(100 * (s.inside or 0.0), places=2)
    title = (
        said(
            "Load at {length}: {inside} inside its limits",
            length=q.length(s.length or 0.0, 4),
            inside=inside,
        )
        if s.quantity == "load"
        else said("Rate: {inside} inside its limits", inside=inside)
    )
    return Chart(
        x=Axis(
            left - air, right + air, word("load" if s.quantity == "load" else "rate"), kind=kind
        ),
        y=Axis(0.0, 1.12, word("springs")),
        title=title,
        items=items,
        told=_told(s, kind),
        name=f"tolerance-{s.quantity}-{s.number or 0}",
    )


def _told(s: Spread, kind: str) -> Message:
    return said(
        "Nominal {nominal}; 99.73 % of the springs from {low} to {high}.",
        nominal=q.Quantity(kind, s.nominal, 4),
        low=q.Quantity(kind, s.low, 4, unit=False),
        high=q.Quantity(kind, s.high, 4),
    )


def costs(t: Tolerance) -> Chart:
    """Return the indices of what is worst held as bars, the greatest at the top."""
    ordered = sorted(t.strays, key=lambda x: x.total)
    items: list[Item] = []
    for row, x in enumerate(ordered):
        for share, role, key, (low, high) in (
            (x.total, "loop", word("with all else"), (0.0, _BAR)),
            (x.first, "bend", word("alone"), (-_BAR, 0.0)),
        ):
            far = max(100 * share, 0.0)
            box = ((0.0, row + low), (far, row + low), (far, row + high), (0.0, row + high))
            items.append(Area(box, role, key))
    worst = t.spreads[t.worst]
    what = (
        said("load at {length}", length=q.length(worst.length or 0.0, 4))
        if worst.quantity == "load"
        else word("rate")
    )
    return Chart(
        x=Axis(0.0, 100.0, word("share of the variance"), kind="percent"),
        y=Axis(-0.6, len(ordered) - 0.4, ""),
        title=said("What costs most: {what}", what=what),
        items=tuple(items),
        told=said("The greatest share: {name}.", name=WORDS[ordered[-1].name]),
        name=_COSTS,
    )


def _names(t: Tolerance) -> list[Message]:
    """Return what the bars are called, from below."""
    return [WORDS[x.name] for x in sorted(t.strays, key=lambda x: x.total)]
