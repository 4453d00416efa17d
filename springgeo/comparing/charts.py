"""The load curves of several springs in one diagram."""

from __future__ import annotations

from itertools import cycle

from springgeo.chart import Axis, Chart, Item, Line, Marks
from springgeo.chart.model import Shape
from springgeo.chart.style import series
from springgeo.comparing.model import Comparison
from springgeo.results.loaded import traced
from springgeo.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.shown import said, word

_SHAPES: tuple[Shape, ...] = ("circle", "square", "diamond", "triangle", "wedge", "plus", "cross")


def load_lengths(c: Comparison) -> Chart:
    """Return the load curves, each to the end of its stroke, with its working points."""
    every = [s.summary() for s in c.springs]
    low = min(s.geometry.free_length for s in every)
    far = max(_end(s)[0] for s in every)
    top = max(_end(s)[1] for s in every)
    span = max(far - low, 1e-9 * low)
    items: list[Item] = []
    for i, (name, s, shape) in enumerate(zip(c.names, every, cycle(_SHAPES), strict=False)):
        items.append(Line(traced(s.load_line.curve, _end(s)[1]), series(i)))
        points = s.along_the_wire.points or ()
        ends = tuple((p.length, p.load) for p in points) or (_end(s),)
        items.append(Marks(ends, series(i), shape=shape, key=name))
    return Chart(
        x=Axis(low - 0.05 * span, far + 0.05 * span, word("length inside hooks"), kind="length"),
        y=Axis(0.0, 1.08 * max(top, 1e-9), word("load"), kind="force"),
        title=word("Load over length"),
        items=tuple(items),
        told=said(
            "Load curves of {count} springs, free lengths from {low} to {high}.",
            count=q.number(len(every)),
            **q.lengths(4, low=low, high=max(s.geometry.free_length for s in every)),
        ),
        name="load-lengths",
    )


def _end(s: Summary) -> tuple[float, float]:
    """Return length, mm, and load, N, of the furthest working point, or of the curve's end."""
    points = s.along_the_wire.points
    last = points[-1] if points else s.load_line.curve[-1]
    return last.length, last.load
