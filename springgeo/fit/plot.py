"""A picture of the fit: every clearance over the stroke, with the stops and what is too near."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from springgeo.chart import Area, Axis, Chart, Item, Label, Line, Marks, Rule, Stripe, mpl
from springgeo.chart.model import Shape
from springgeo.chart.style import series
from springgeo.errors import SpringgeoError
from springgeo.fit.model import PART_WORDS, FitReport, Gap
from springgeo.message import Message
from springgeo.text import quantity as q
from springgeo.text.naming import ENDS
from springgeo.text.shown import PLAIN, Shown, said, together, word

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_AROUND = {"bore": word("spring in its bore"), "rod": word("spring over its rod")}
_SHAPES: tuple[Shape, ...] = (
    "circle",
    "square",
    "triangle",
    "wedge",
    "diamond",
    "plus",
    "cross",
)


def plot_fit(report: FitReport, axes: Axes | None = None, shown: Shown = PLAIN) -> Figure:
    """Draw the clearances over the length; return the matplotlib figure.

    Parameters
    ----------
    report : FitReport
        With at least one state.
    axes : matplotlib Axes, optional
        Where to draw; a new figure if left out.
    shown : Shown, optional
        The reader's units and language.

    Raises
    ------
    SpringgeoError
        matplotlib is not installed, or no state could be fitted.
    """
    chart = fit_chart(report).shown(replace(shown, typeset=True))
    if axes is None:
        axes = mpl.figure(8.0, 4.6).subplots()
    return mpl.draw(chart, axes, beside=True)


def write_plot(report: FitReport, target: str | os.PathLike[str], shown: Shown = PLAIN) -> Path:
    """Write the picture as PNG, SVG or PDF by its ending; the same bytes for the same report.

    Raises
    ------
    FileError
        The ending is another, or the file cannot be written.
    SpringgeoError
        As for `plot_fit`.
    """
    return mpl.written(target, lambda: plot_fit(report, shown=shown))


def fit_chart(report: FitReport) -> Chart:
    """Return the clearances over the length as a diagram.

    Raises
    ------
    SpringgeoError
        No state could be fitted.
    """
    if not report.states:
        raise SpringgeoError(f"nothing to plot: {report.verdict}")
    lengths = [s.length for s in report.states]
    every = list(_series(report))
    low = min(0.0, *(min(g) for _, g in every)) if every else 0.0
    high = max(0.0, *(max(g) for _, g in every)) if every else 1.0
    room = max(0.08 * (high - low), 1e-3)
    air = max(0.03 * (lengths[-1] - lengths[0]), 1e-3)
    # the stops' words stand along their lines, at the top
    x = Axis(lengths[0] - air, lengths[-1] + 2 * air, word("length inside hooks"), kind="length")
    y = Axis(low - room, high + 4 * room, word("clearance"), kind="length")
    unwise = [f.code for f in report.findings if f.severity == "warning"]
    title = together(report.name, report.verdict, by=": ")
    return Chart(
        x=x,
        y=y,
        title=together(title, *dict.fromkeys(unwise), by=", "),
        items=(*_limits(report, x, y), *_lines(lengths, every)),
        told=said(
            "Clearances from {low} to {high}: {verdict}.",
            low=q.length(lengths[0], 4, unit=False),
            high=q.length(lengths[-1], 4),
            verdict=report.verdict,
        ),
        name="clearance",
    )


def _lines(lengths: list[float], every: list[tuple[str, list[float]]]) -> Iterator[Item]:
    for i, (name, gaps) in enumerate(every):
        points, role = tuple(zip(lengths, gaps, strict=True)), series(i)
        yield Line(points, role)
        yield Marks(points, role, name, _SHAPES[i % len(_SHAPES)])


def _limits(report: FitReport, x: Axis, y: Axis) -> Iterator[Item]:
    """Yield where parts overlap, the named lengths, and where a stress reaches its allowable."""
    below = ((x.low, 0.0), (x.high, 0.0), (x.high, y.low), (x.low, y.low))
    yield Area(below, "unsafe")
    yield Line(below[:2], "limit")
    yield Label(x.high, y.low, word("parts overlap"))
    last = report.states[-1].length
    if report.safe_length is not None and report.safe_length < last:
        yield Stripe(report.safe_length, last, "unsafe")
        yield Rule(report.safe_length, "limit", word("stress limit"))
    for s in report.states:
        if s.stop:
            yield Rule(s.length, "stop", s.stop)


def _pair(part: str, side: str, other: Message) -> Message:
    return together(PART_WORDS[part], ENDS[side], other, by=", ")


def _series(report: FitReport) -> Iterator[tuple[str, list[float]]]:
    """Yield a name and the clearance in every state; a seat that merely touches says nothing."""
    for side in ("first", "second"):
        ends = [getattr(s, side) for s in report.states]
        if any(e is None for e in ends):
            continue
        if min(e.hook.distance for e in ends) < -1e-3:
            yield _pair(ends[0].part, side, word("to its hook")), [e.hook.distance for e in ends]
        yield _pair(ends[0].part, side, word("to the body")), [e.neighbour.distance for e in ends]
    for name in ("bore", "rod"):
        gaps: list[Gap | None] = [getattr(s, name) for s in report.states]
        known = [g.distance for g in gaps if g is not None]
        if len(known) == len(gaps):
            yield (
                {"bore": word("spring in its bore"), "rod": word("spring over its rod")}[name],
                known,
            )
    for name in report.states[0].solids:
        yield name, [s.solids[name].distance for s in report.states]
