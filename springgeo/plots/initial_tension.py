"""Initial-tension stress over the index: the preferred band, and where the spring lies."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from springgeo.chart import Area, Axis, Chart, Item, Label, Line, Marks
from springgeo.computed import ComputedSpring
from springgeo.mechanics import initial_tension as published
from springgeo.message import Message
from springgeo.plots.draw import drawn
from springgeo.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.shown import said, word

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def initial_tension(spring: ComputedSpring, ax: Axes | None = None) -> Figure:
    """Draw the preferred band (Shigley 10-41) and the spring's own point; return the figure.

    An open-wound spring, or one with an index of which nothing is published, stands alone.

    Parameters
    ----------
    spring : Spring
    ax : matplotlib Axes, optional

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    """
    return drawn(chart(spring.summary()), spring.spec.name, spring.shown, ax)


def chart(s: Summary) -> Chart:
    """Return the diagram; its axis goes on to an index beyond the published ones."""
    c, t = s.geometry.index, s.initial_tension
    index = np.linspace(published.INDEX_LOW, published.INDEX_HIGH, 60)
    band = published.preferred_shigley(index)
    low, high, middle = (
        [(float(x), float(y)) for x, y in zip(index, np.asarray(edge), strict=True)]
        for edge in (band.low, band.high, band.middle)
    )
    words = word("this spring, assumed") if t.assumed else word("this spring")
    items: tuple[Item, ...] = (
        Area((*low, *reversed(high)), "preferred", word("preferred range")),
        Line(low, "edge"),
        Line(high, "edge"),
        Line(middle, "thin", word("its middle")),
        Marks(((c, t.stress),), "point", key=words),
        Label(
            c,
            t.stress,
            said("{stress}, D/d {index}", stress=q.stress(t.stress, 3), index=q.number(c, 3)),
        ),
    )
    return Chart(
        x=Axis(min(published.INDEX_LOW, c), max(published.INDEX_HIGH, c), word("spring index D/d")),
        y=Axis(
            0.0,
            1.1 * max(high[0][1], t.stress),
            word("initial-tension stress (uncorrected)"),
            kind="stress",
        ),
        title=word("Initial tension"),
        items=items,
        told=told(s),
        name="initial-tension",
    )


def told(s: Summary) -> Message:
    """Return where the spring lies, or why there is no preferred range, in words."""
    t = s.initial_tension
    if t.preferred_low is None or t.preferred_high is None:
        return _why_not(s)
    place = (
        word("below the range: lost easily, and hard to hold")
        if t.stress < t.preferred_low
        else word("above the range: hard to wind")
        if t.stress > t.preferred_high
        else word("within the range")
    )
    return said(
        "{stress} at index {index}; preferred {low} to {high}: {place}.",
        **q.stresses(3, stress=t.stress, high=t.preferred_high),
        index=q.number(s.geometry.index, 3),
        low=q.stress(t.preferred_low, 3, unit=False),
        place=place,
    )


def _why_not(s: Summary) -> Message:
    low, high = published.INDEX_LOW, published.INDEX_HIGH
    if low <= s.geometry.index <= high:
        return word(
            "The body is wound open: its coils do not touch, so there is no initial tension."
        )
    return said(
        "No preferred range is published for index {index}; the charts run from {low} to {high}.",
        index=q.number(s.geometry.index, 3),
        low=q.number(low),
        high=q.number(high),
    )
