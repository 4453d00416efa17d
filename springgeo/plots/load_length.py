"""Load over length inside hooks: the offset of the initial tension, both rates, the loads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from springgeo.api import Spring
from springgeo.chart import Axis, Chart, Item, Label, Line, Marks
from springgeo.message import Message
from springgeo.plots.draw import drawn
from springgeo.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.shown import said, together, word

# labels beside working points; of more points the first and the last are named
_MOST = 4


def load_length(spring: Spring, ax: Any | None = None) -> Any:
    """Draw the load line with its working points and their tolerance; return the figure.

    Parameters
    ----------
    spring : Spring
    ax : matplotlib Axes, optional
        Where to draw; a new figure if left out.

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    """
    return drawn(chart(spring.summary()), spring.spec.name, spring.shown, ax)


def chart(s: Summary, stops: Sequence[tuple[float, float]] = ()) -> Chart:
    """Return the diagram.

    Parameters
    ----------
    s : Summary
    stops : sequence of (mm, N)
        Places on the line that it must reach, beside the working points.
    """
    free, tension = s.geometry.free_length, s.initial_tension.force
    points = s.along_the_wire.points
    ends = [*stops, *((p.length, p.load) for p in s.points)]
    ends += [(p.length, p.load) for p in points]
    if not ends:  # no working point: on to twice the initial tension, or a newton
        more = max(tension, 1.0)
        ends = [(free + more / s.along_the_wire.rate, tension + more)]
    # a spring that its loads do not move still gets an axis worth reading
    far = max(*(x for x, _ in ends), 1.05 * free)
    span, last = far - free, max(y for _, y in ends)
    low = max(0.0, free - 0.22 * span)
    items: list[Item] = []
    if tension > 0:
        items += [
            Line(((low, tension), (free, tension)), "thin"),
            Label(low, tension, said("Fi {force}", force=q.force(tension, 3))),
        ]
    for words, rate, role in (
        (word("handbook"), s.rate, "handbook"),
        (word("along the wire"), s.along_the_wire.rate, "wire"),
    ):
        end = (max(free + (last - tension) / rate, free), max(last, tension))
        key = said("{way}, {rate}", way=words, rate=q.rate(rate))
        items.append(Line(((free, 0.0), (free, tension), end), role, key))
    return Chart(
        x=Axis(low, far + 0.12 * span, word("length inside hooks"), kind="length"),
        y=Axis(0.0, 1.12 * max(tension, 1e-9, last), word("load"), kind="force"),
        title=word("Load over length"),
        items=(*items, *_points(s)),
        told=told(s),
        name="load-length",
        follows=True,
    )


def _points(s: Summary) -> Iterator[Item]:
    points = s.along_the_wire.points
    if not points:
        return
    tolerance = {p.load: p.tolerance_percent for p in s.load_line.along_the_wire[2:]}
    yield Marks(
        tuple((p.length, p.load) for p in points),
        "point",
        key=word("working point, with load tolerance"),
        reach=tuple(p.load * (tolerance.get(p.load) or 0.0) / 100 for p in points),
    )
    numbered = list(enumerate(points, start=1))
    shown = numbered if len(numbered) <= _MOST else [numbered[0], numbered[-1]]
    for i, p in shown:
        at = {"force": q.force(p.load, 3), "length": q.length(p.length, 4)}
        yield Label(p.length, p.load, said("F{number} {force}, {length}", number=i, **at))


def told(s: Summary) -> Message:
    """Return the diagram in words."""
    tension = s.initial_tension.force
    values = {
        "free": q.length(s.geometry.free_length, 4),
        "wire": q.rate(s.along_the_wire.rate),
        "book": q.rate(s.rate),
    }
    start = (
        said(
            "Nothing moves below the initial tension of {tension} at the free length of {free}; "
            "above it the load rises by {wire} along the wire, {book} by the handbook.",
            tension=q.force(tension, 3),
            **values,
        )
        if tension > 0
        else said(
            "There is no initial tension: from the free length of {free} the load rises by {wire} "
            "along the wire, {book} by the handbook.",
            **values,
        )
    )
    points = (
        said("{force} at {length}.", force=q.force(p.load), length=q.length(p.length, 4))
        for p in s.along_the_wire.points[:_MOST]
    )
    return together(start, *points)
