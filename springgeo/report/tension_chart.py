"""Initial-tension stress over index: the preferred band, and where this spring lies."""

from __future__ import annotations

import numpy as np

from springgeo.mechanics import initial_tension
from springgeo.report.chart import Chart, legend
from springgeo.report.value import number
from springgeo.summary import Summary


def tension_chart(s: Summary) -> str:
    """Return the diagram and its legend as HTML, or words where no range is published."""
    c, t = s.geometry.index, s.initial_tension
    if t.preferred_low is None or t.preferred_high is None:
        return f"<p>{why_not(s)}</p>"
    index = np.linspace(initial_tension.INDEX_LOW, initial_tension.INDEX_HIGH, 60)
    band = initial_tension.preferred_shigley(index)
    high = np.asarray(band.high)
    chart = Chart(
        x=(initial_tension.INDEX_LOW, initial_tension.INDEX_HIGH),
        y=(0.0, 1.1 * max(float(high.max()), t.stress)),
        x_name="spring index D/d",
        y_name="initial-tension stress, MPa (uncorrected)",
        title="Initial tension",
        told=told(s),
        name="initial-tension",
    )
    low_edge = list(zip(index, np.asarray(band.low), strict=True))
    high_edge = list(zip(index, high, strict=True))
    chart.area([*low_edge, *reversed(high_edge)], "band")
    chart.line(low_edge, "edge")
    chart.line(high_edge, "edge")
    chart.line(list(zip(index, np.asarray(band.middle), strict=True)), "thin")
    chart.mark(c, t.stress, "point")
    right = c < 11
    chart.label(
        c,
        t.stress,
        f"{number(t.stress, 3)} MPa, D/d {number(c, 3)}",
        "start" if right else "end",
        dx=10 if right else -10,
        dy=-8,
    )
    return chart.svg() + legend(
        [
            ("band", "area", "preferred range"),
            ("thin", "line", "its middle"),
            ("point", "circle", "this spring"),
        ]
    )


def told(s: Summary) -> str:
    """Return where the spring lies, in words."""
    t = s.initial_tension
    assert t.preferred_low is not None
    assert t.preferred_high is not None
    place = (
        "below the range: lost easily, and hard to hold"
        if t.stress < t.preferred_low
        else "above the range: hard to wind"
        if t.stress > t.preferred_high
        else "within the range"
    )
    return (
        f"{number(t.stress, 3)} MPa at index {number(s.geometry.index, 3)}; preferred "
        f"{number(t.preferred_low, 3)} to {number(t.preferred_high, 3)} MPa: {place}."
    )


def why_not(s: Summary) -> str:
    """Return why there is no preferred range, in words."""
    low, high = initial_tension.INDEX_LOW, initial_tension.INDEX_HIGH
    if low <= s.geometry.index <= high:
        return "The body is wound open: its coils do not touch, so there is no initial tension."
    return (
        f"No preferred range is published for index {number(s.geometry.index, 3)}; "
        f"the charts run from {low:g} to {high:g}."
    )
