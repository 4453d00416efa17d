"""The page's diagrams: the charts of ``springgeo.plots`` as SVG, each with its legend."""

from __future__ import annotations

from collections.abc import Sequence

from springgeo.chart import Chart, keys, svg
from springgeo.plots.fatigue import chart as fatigue_chart
from springgeo.plots.fatigue import has_limits
from springgeo.plots.initial_tension import chart as tension_chart
from springgeo.plots.load_length import chart as load_chart
from springgeo.plots.stress_along_wire import Stresses
from springgeo.report.html import Markup, render
from springgeo.report.stroke import Stroke
from springgeo.statics import WireStress
from springgeo.summary import Summary
from springgeo.text.shown import Shown


def load_length(s: Summary, stroke: Stroke, shown: Shown) -> Markup:
    """Return load over length in words and as a diagram, a mark on it following the slider."""
    there = [(x.length, x.load) for x in stroke.states] if stroke.as_mounted else []
    chart = load_chart(s, [(p.length, p.load) for p in stroke.stops], there).shown(shown)
    return _drawn([("", chart)], chart.told)


def tension(s: Summary, shown: Shown) -> Markup:
    """Return the initial tension in words, and as a diagram where a range is published."""
    chart = tension_chart(s).shown(shown)
    if s.initial_tension.preferred_low is None:
        return _drawn([], chart.told)
    words = chart.told
    if s.initial_tension.assumed:
        none = shown.say("The specification names none: the middle of the range is assumed.")
        words = f"{words} {none}"
    return _drawn([("", chart)], words)


def stresses(s: Summary, wire: WireStress, shown: Shown) -> Markup:
    """Return a diagram of each hook and of the body under a load."""
    panels = Stresses(s, wire).panels()
    return _drawn([(shown.text(h), chart.shown(shown)) for h, chart in panels], grid="three")


def fatigue(s: Summary, shown: Shown) -> Markup:
    """Return one diagram for shear, one for bending; nothing where no limit is published."""
    charts = [fatigue_chart(s, b).shown(shown) for b in (False, True) if has_limits(s, b)]
    return _drawn([(chart.title, chart) for chart in charts], grid="two")


def _drawn(panels: Sequence[tuple[str, Chart]], words: str = "", grid: str = "") -> Markup:
    """Return diagrams under their headings, and one legend; ``grid`` sets them side by side."""
    return render(
        "diagrams",
        words=words,
        grid=grid,
        panels=[(heading, Markup(svg.drawing(chart))) for heading, chart in panels],
        keys=[(Markup(svg.key(k)), k.words) for k in keys(*(chart for _, chart in panels))],
    )
