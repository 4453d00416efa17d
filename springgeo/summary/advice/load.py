"""Tension and loads by the handbook: ranges, margins, resonance."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.findings import Finding, note, warning
from springgeo.mechanics import dynamics
from springgeo.results.place import KINDS, Place
from springgeo.summary.advice.cure import cure, field, told
from springgeo.summary.handbook import Handbook
from springgeo.summary.loaded import is_given
from springgeo.text import quantity as q
from springgeo.text.shown import Value, said, word
from springgeo.trade.practice import practice
from springgeo.trade.table import within

FREQUENCY_RATIO = practice("frequency_ratio")


def tension(book: Handbook) -> Iterator[Finding]:
    """Return what is to be said of the initial tension and its preferred range."""
    tension = book.initial_tension
    low, high, stress = tension.preferred_low, tension.preferred_high, tension.stress
    if tension.assumed:
        yield note(
            "initial-tension-assumed",
            "body.initial_tension",
            said(
                "not given; the middle of the preferred range was taken: {force} ({stress})",
                force=q.force(tension.force),
                stress=q.stress(stress),
            ),
        )
    if low is not None and high is not None and not within(low, stress, high):
        values = {
            "stress": q.stress(stress),
            "low": q.stress(low, unit=False),
            "high": q.stress(high),
        }
        text = (
            said(
                "{stress} is below the preferred {low} to {high} at this index; coils may not "
                "close evenly: move the tension into the range, or agree it with the maker",
                **values,
            )
            if stress < low
            else said(
                "{stress} is above the preferred {low} to {high} at this index; hard to wind, and "
                "tends to be lost in stress relief: move the tension into the range, or agree it "
                "with the maker",
                **values,
            )
        )
        yield warning("initial-tension-outside-preferred", "body.initial_tension", text)
    if low is None and not book.model.body.is_open:
        yield note(
            "initial-tension-no-range",
            "body.initial_tension",
            said(
                "no preferred range is published for index {index} (4 to 16 only)",
                index=q.number(book.model.body.index, 3),
            ),
        )


def no_tension(book: Handbook) -> Iterator[Finding]:
    """Warn where the material takes no initial tension."""
    if book.initial_tension.force > 0 and not book.model.material.initial_tension_possible:
        yield warning(
            "initial-tension-impossible",
            "body.initial_tension",
            said(
                "{material} cannot be wound with initial tension; set it to {none}, or choose a "
                "cold-drawn or pretempered wire",
                material=word(book.material.title),
                none=q.force(0.0),
            ),
        )


def loads(book: Handbook) -> Iterator[Finding]:
    """Warn of loads below the initial tension."""
    force = book.initial_tension.force
    for point in book.points:
        load = point.load
        if point.is_slack and book.place is not None:
            load = book.place.solve_length(float(point.length)).load
        if load <= force and not book.model.body.is_open:
            values: dict[str, Value] = {"point": told(book, point, load), "tension": q.force(force)}
            text = (
                said(
                    "{point}: not above the initial tension {tension}: hooks give, the coils "
                    "hardly open; ask for a greater length or lower the tension",
                    **values,
                )
                if is_given(book, point)
                else said(
                    "{point} does not exceed the initial tension {tension}: hooks give, the coils "
                    "hardly open; raise the load or lower the tension",
                    **values,
                )
            )
            yield warning("load-below-initial-tension", field(book, point), text)


def margins(book: Handbook) -> Iterator[Finding]:
    """Warn of places above their allowable by the handbook."""
    for point in book.points:
        sides = {"hook_bending": point.hook_at_a, "hook_torsion": point.hook_at_b}
        for name in KINDS:
            margin = getattr(point.margin, name)
            if margin is not None and margin < 1.0:
                yield warning(
                    "overstressed",
                    field(book, point),
                    said(
                        "{place}: {stress} at {point}, above the allowable {allowable} (margin "
                        "{margin}: {times} times what it holds); {cure}",
                        point=told(book, point),
                        place=Place.of(name, sides.get(name)).words,
                        stress=q.stress(getattr(point, name)),
                        allowable=q.stress(getattr(point.allowable, name)),
                        margin=q.factor(margin),
                        times=q.number(1 / margin, 3),
                        cure=cure(book, point, name, "handbook"),
                    ),
                )


def frequency(book: Handbook) -> Iterator[Finding]:
    """Warn of resonance."""
    forcing = book.model.spec.service.forcing_frequency
    if forcing is None:
        return
    own = book.natural_frequency
    if book.points and not dynamics.coils_open(book.points[0].load, book.initial_tension.force):
        yield note(
            "frequency-closed-coils",
            "service.forcing_frequency",
            word(
                "the natural frequency holds only while the coils are apart, above the initial "
                "tension; the lowest load is not"
            ),
        )
    if own < FREQUENCY_RATIO * forcing:
        yield warning(
            "resonance",
            "service.forcing_frequency",
            said(
                "the spring's own {own} is less than {ratio} times the forcing {forcing}; stiffen "
                "it or use fewer, smaller coils",
                own=q.frequency(own),
                ratio=q.number(FREQUENCY_RATIO),
                forcing=q.frequency(forcing),
            ),
        )
