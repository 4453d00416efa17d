"""Alternating over mean stress: the cycle under the limit of each place for its life."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING

import numpy as np

from springgeo.chart import Axis, Chart, Item, Label, Line, Marks
from springgeo.chart.model import Shape
from springgeo.computed import ComputedSpring
from springgeo.errors import SpringgeoError
from springgeo.mechanics import life
from springgeo.message import Message
from springgeo.plots.draw import drawn
from springgeo.results.fatigue import FatiguePlace
from springgeo.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.shown import said, together, word

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

# words, mark, and how the limit is drawn
PLACES: dict[str, tuple[Message, Shape, str]] = {
    "body_shear": (word("body"), "circle", "limit-body"),
    "hook_torsion": (word("hook torsion"), "diamond", "limit-hook"),
    "hook_bending": (word("hook bending"), "square", "limit-body"),
}
_SHOWN = {False: ("body_shear", "hook_torsion"), True: ("hook_bending",)}
_Places = dict[str, FatiguePlace]


def fatigue(spring: ComputedSpring, ax: Axes | None = None, *, bending: bool = False) -> Figure:
    """Draw the cycle of body and hook torsion, or of hook bending; return the figure.

    Parameters
    ----------
    spring : Spring
        With loads and a duty that is not static.
    ax : matplotlib Axes, optional
    bending : bool
        Hook bending.

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    SpringgeoError
        The specification states no cycle.
    """
    s = spring.summary()
    f, kind = s.fatigue, word("bending") if bending else word("shear")
    if f is None:
        raise SpringgeoError(
            "no cycle to draw: give service.loads and a service.duty of cyclic or infinite"
        )
    title = said(
        "{name}: {kind}, {low} to {high}",
        name=spring.spec.name,
        kind=kind,
        low=q.force(f.load_low, unit=False),
        high=q.force(f.load_high),
    )
    return drawn(chart(s, bending), title, spring.shown, ax)


def limit(p: FatiguePlace) -> list[tuple[float, float]]:
    """Return the line where a place's factor is 1, mean and alternating stress, MPa.

    The lower of Gerber's and Goodman's line at the life asked for, down to the static line; empty
    without published data.
    """
    if p.life_gerber is None or p.life_goodman is None:
        return []
    S_e = life.Lines(np.asarray(p.life_gerber), np.asarray(p.life_goodman))
    mean = np.linspace(0.0, p.static_strength, 80)
    line = life.allowed(mean, S_e, p.ultimate, p.static_strength)
    return list(zip(mean.tolist(), line.tolist(), strict=True))


def has_limits(s: Summary, bending: bool) -> bool:
    """Return whether anything is published to hold the cycle against."""
    assert s.fatigue is not None
    places = s.fatigue.along_the_wire
    return any(limit(places[n]) for n in _SHOWN[bending] if n in places)


def chart(s: Summary, bending: bool) -> Chart:
    """Return the diagram of shear, or of bending; ``s`` has a fatigue result."""
    assert s.fatigue is not None
    f = s.fatigue
    wire, book, there, there_by_book = (
        {n: places[n] for n in _SHOWN[bending] if n in places}
        for places in (f.along_the_wire, f.handbook, f.mounted, f.mounted_handbook)
    )
    cycles = f.cycles
    lasting = (
        word("for ever")
        if cycles is None
        else said("for {cycles} cycles", cycles=q.number(cycles, 3))
    )
    limits: list[Item] = [
        Line(line, PLACES[n][2], together(word("limit"), PLACES[n][0], lasting, by=", "))
        for n, p in wire.items()
        if (line := limit(p))
    ]
    every = [p for way in (wire, book, there, there_by_book) for p in way.values()]
    points = [point for n in wire for point in limit(wire[n])]
    points += [(p.mean, p.alternating) for p in every]
    return Chart(
        x=Axis(
            0.0, 1.06 * max([1e-6, *(x for x, _ in points)]), word("mean stress"), kind="stress"
        ),
        y=Axis(
            0.0,
            1.25 * max([1e-6, *(y for _, y in points)]),
            word("alternating stress"),
            kind="stress",
        ),
        title=word("Cycle: hook bending") if bending else word("Cycle: body, and hook torsion"),
        items=(
            *limits,
            *_by_book(book, as_mounted=False),
            *_by_book(there_by_book, as_mounted=True),
            *_along(wire, as_mounted=False, named={n for n in wire if not _less(n, there, wire)}),
            *_along(there, as_mounted=True, named={n for n in there if _less(n, there, wire)}),
        ),
        told=together(_told(wire), said("As mounted: {first}", first=_told(there)))
        if there
        else _told(wire),
        name="fatigue-bending" if bending else "fatigue-shear",
    )


def _less(name: str, there: _Places, wire: _Places) -> bool:
    """Return whether a place's factor as mounted is the lesser, or its stress the greater."""
    if name not in there:
        return False
    a, b = there[name], wire[name]
    if a.factor is None or b.factor is None:
        return a.mean + a.alternating > b.mean + b.alternating
    return a.factor < b.factor


def _by_book(places: _Places, *, as_mounted: bool) -> Iterator[Item]:
    role, words = (
        ("mounted-hollow", word("hollow: by the handbook, as mounted"))
        if as_mounted
        else ("hollow", word("hollow: by the handbook"))
    )
    for name, p in places.items():
        yield Marks(((p.mean, p.alternating),), role, words, PLACES[name][1])


def _along(places: _Places, *, as_mounted: bool, named: Collection[str]) -> Iterator[Item]:
    """Yield the points along the wire, with the stresses of those that are to be named."""
    for name, p in places.items():
        words, shape, _ = PLACES[name]
        role, key = (
            ("mounted", said("{place}, along the wire, as mounted", place=words))
            if as_mounted
            else ("point", said("{place}, along the wire", place=words))
        )
        yield Marks(((p.mean, p.alternating),), role, key, shape)
        if name in named:
            text = said(
                "{place} {mean} ± {alternating}",
                place=words,
                mean=q.stress(p.mean, 3, unit=False),
                alternating=q.stress(p.alternating, 3, unit=False),
            )
            yield Label(p.mean, p.alternating, text)


def _told(places: _Places) -> Message:
    words = []
    for name, p in places.items():
        text = said(
            "{place}: {mean} ± {alternating}",
            place=PLACES[name][0],
            mean=q.stress(p.mean, 3, unit=False),
            alternating=q.stress(p.alternating, 3),
        )
        if p.factor is not None:
            text = said("{first}, factor {factor}", first=text, factor=q.number(p.factor, 3))
        words.append(text)
    return said("{first}.", first=together(*words, by="; "))
