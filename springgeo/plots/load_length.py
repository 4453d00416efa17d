"""Load over length inside hooks: the load curve, the textbook's straight line, the loads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from springgeo.chart import Axis, Chart, Item, Label, Line, Marks
from springgeo.computed import ComputedSpring
from springgeo.mechanics.rate import length_at_load
from springgeo.message import Message
from springgeo.plots.draw import drawn
from springgeo.results.loaded import traced
from springgeo.results.measured import measured_points
from springgeo.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.shown import said, together, word

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

# labels beside working points; of more points the first and the last are named
_MOST = 4


def load_length(spring: ComputedSpring, ax: Axes | None = None) -> Figure:
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


def chart(
    s: Summary,
    stops: Sequence[tuple[float, float]] = (),
    there: Sequence[tuple[float, float]] = (),
) -> Chart:
    """Return the diagram.

    Parameters
    ----------
    s : Summary
    stops : sequence of (mm, N)
        Places on the line that it must reach, beside the working points.
    there : sequence of (mm, N)
        The states as mounted, where those are known.
    """
    free, tension = s.geometry.free_length, s.initial_tension.force
    points = s.along_the_wire.points
    ends = [*stops, *((p.length, p.load) for p in s.points)]
    ends += [(p.length, p.load) for p in (*points, *s.mounted)]
    curve = s.load_line.curve
    if not ends:
        ends = [(curve[-1].length, curve[-1].load)]
    # a spring that its loads do not move still gets an axis worth reading
    far = max(*(x for x, _ in ends), 1.05 * free)
    span, last = far - free, max(y for _, y in ends)
    # as mounted it may be shorter than free
    least = min(free, *(x for x, _ in (*ends, *there)))
    low = max(0.0, least - 0.22 * span)
    # held out of line the pins may push
    lowest = 1.12 * min(0.0, *(y for _, y in ends))
    items: list[Item] = []
    if tension > 0:
        items += [
            Line(((low, tension), (free, tension)), "thin"),
            Label(low, tension, said("Fi {force}", force=q.force(tension, 3))),
        ]
    # pulled straight it is told as far as it is used so
    top = last
    if there or s.mounted:
        top = max((p.load for p in points), default=curve[-1].load)
    straight = float(length_at_load(top, free, tension, s.rate))
    items += [
        Line(
            ((free, 0.0), (free, tension), (straight, max(top, tension))),
            "handbook",
            said("handbook's straight line, {rate}", rate=q.rate(s.rate)),
        ),
        Line(traced(curve, top), "wire", word("load curve")),
    ]
    if there:
        items.append(Line(tuple(there), "mounted-line", word("as mounted")))
    return Chart(
        x=Axis(low, far + 0.12 * span, word("length inside hooks"), kind="length"),
        y=Axis(lowest, 1.12 * max(tension, 1e-9, last), word("load"), kind="force"),
        title=word("Load over length"),
        items=(*items, *_points(s)),
        told=told(s),
        name="load-length",
        follows=True,
    )


def _points(s: Summary) -> Iterator[Item]:
    if s.mounted:
        yield Marks(
            tuple((p.length, p.load) for p in s.mounted),
            "mounted",
            key=word("working point, as mounted"),
        )
    # one that is slack pulled straight is a working point as mounted alone
    numbered = [(k, s.along_the_wire.points[k - 1]) for k, _ in measured_points(s)]
    points = [p for _, p in numbered]
    if not points:
        return
    tolerance = {p.load: p.tolerance_percent for p in s.load_line.along_the_wire[2:]}
    yield Marks(
        tuple((p.length, p.load) for p in points),
        "point",
        key=word("working point, with load tolerance"),
        reach=tuple(p.load * (tolerance.get(p.load) or 0.0) / 100 for p in points),
    )
    shown = numbered if len(numbered) <= _MOST else [numbered[0], numbered[-1]]
    for i, p in shown:
        at = {"force": q.force(p.load, 3), "length": q.length(p.length, 4)}
        yield Label(p.length, p.load, said("F{number} {force}, {length}", number=i, **at))


def told(s: Summary) -> Message:
    """Return the diagram in words."""
    tension, last = s.initial_tension.force, s.load_line.curve[-1]
    values = {
        "free": q.length(s.geometry.free_length, 4),
        "wire": q.rate(s.rates.between_points or last.rate),
        "book": q.rate(s.rate),
    }
    between = s.rates.between_points is not None
    where = word("between the working points") if between else word("at the end of the curve")
    parted = s.contact and s.contact.last_parts_at
    start = (
        said(
            "From the free length of {free} the hooks give, and the coils part one after the "
            "other, the last at {parted}; the initial tension is {tension}. The load rises by "
            "{wire} {where}, {book} by the handbook.",
            **q.forces(3, parted=parted or tension, tension=tension),
            where=where,
            **values,
        )
        if tension > 0
        else said(
            "There is no initial tension: from the free length of {free} the load rises by {wire} "
            "{where}, {book} by the handbook.",
            where=where,
            **values,
        )
    )
    points = (
        said("{force} at {length}.", force=q.force(p.load), length=q.length(p.length, 4))
        for p in [s.along_the_wire.points[k - 1] for k, _ in measured_points(s)][:_MOST]
    )
    there = (
        said("As mounted {force} at {length}.", force=q.force(p.load), length=q.length(p.length, 4))
        for p in s.mounted[:_MOST]
    )
    return together(start, *points, *there)
