"""The page's diagrams: the charts of ``springgeo.plots`` as SVG, each with its legend."""

from __future__ import annotations

from springgeo.chart import Chart, keys, svg
from springgeo.plots.fatigue import chart as fatigue_chart
from springgeo.plots.fatigue import has_limits
from springgeo.plots.initial_tension import chart as tension_chart
from springgeo.plots.load_length import chart as load_chart
from springgeo.plots.stress_along_wire import Stresses
from springgeo.report.stroke import Stroke
from springgeo.report.value import escaped
from springgeo.statics import WireStress
from springgeo.summary import Summary


def load_length(s: Summary, stroke: Stroke) -> str:
    """Return load over length in words and as a diagram, a mark on it following the slider."""
    chart = load_chart(s, [(p.length, p.load) for p in stroke.stops])
    return f"<p>{escaped(chart.told)}</p><figure>{svg.drawing(chart)}{legend(chart)}</figure>"


def tension(s: Summary) -> str:
    """Return the initial tension in words, and as a diagram where a range is published."""
    chart = tension_chart(s)
    if s.initial_tension.preferred_low is None:
        return f"<p>{escaped(chart.told)}</p>"
    words = chart.told
    if s.initial_tension.assumed:
        words += " The specification names none: the middle of the range is assumed."
    return f"<p>{escaped(words)}</p><figure>{svg.drawing(chart)}{legend(chart)}</figure>"


def stresses(s: Summary, unit: WireStress, load: float) -> str:
    """Return a diagram of each hook and of the body at a load, N."""
    panels = Stresses(s, unit, load).panels()
    drawn = "".join(_panel(heading, chart) for heading, chart in panels)
    return f'<div class="three">{drawn}</div>{legend(*(chart for _, chart in panels))}'


def fatigue(s: Summary) -> str:
    """Return one diagram for shear, one for bending; nothing where no limit is published."""
    charts = [fatigue_chart(s, b) for b in (False, True) if has_limits(s, b)]
    if not charts:
        return ""
    drawn = "".join(_panel(chart.title, chart) for chart in charts)
    return f'<div class="two">{drawn}</div>{legend(*charts)}'


def _panel(heading: str, chart: Chart) -> str:
    return (
        f'<figure><figcaption class="panel">{escaped(heading)}</figcaption>'
        f"{svg.drawing(chart)}</figure>"
    )


def legend(*charts: Chart) -> str:
    """Return the legend of diagrams that are shown together."""
    items = "".join(
        f'<li><svg class="key" viewBox="0 0 28 16" aria-hidden="true">{svg.key(k)}</svg>'
        f"{escaped(k.words)}</li>"
        for k in keys(*charts)
    )
    return f'<ul class="legend">{items}</ul>'
