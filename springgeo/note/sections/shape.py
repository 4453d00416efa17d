"""What is built: geometry, rate."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.note.figures import diagram
from springgeo.note.model import Block, Heading, Table, Text
from springgeo.note.sections.written import Written
from springgeo.plots.load_length import chart as load_chart
from springgeo.text import quantity as q
from springgeo.text.naming import end_words


def geometry(w: Written) -> Iterator[Block]:
    """Yield the shape in numbers, and the lengths by formula."""
    shown, g = w.shown, w.s.geometry
    yield Heading(shown.say("Geometry"))
    hand = shown.say("right hand") if g.hand == "right" else shown.say("left hand")
    rows = [
        (shown.say("wire diameter d"), shown.length(g.wire_diameter)),
        (shown.say("mean diameter D"), shown.length(g.mean_diameter)),
        (
            shown.say("outer / inner diameter"),
            f"{shown.length(g.outer_diameter)} / {shown.length(g.inner_diameter)}",
        ),
        (shown.say("body coils"), f"{shown.number(g.body_coils, 5)}, {hand}"),
        (shown.say("body length"), shown.length(g.body_length)),
        (shown.say("free length inside hooks"), shown.length(g.free_length)),
        (shown.say("wire length"), shown.length(g.wire_length)),
        (shown.say("mass"), shown.mass(g.mass)),
    ]
    for side, end in (("first", w.spring.model.first), ("second", w.spring.model.second)):
        what = [shown.text(end.style.title)]
        for name, words in (
            ("hook_length", shown.say("hook length")),
            ("loop_radius", "r1"),
            ("bend_radius", "r2"),
            ("opening", shown.say("opening")),
        ):
            x = getattr(g, f"{name}_{side}")
            if x is not None:
                what.append(f"{words} {shown.length(x)}")
        rows.append((shown.text(end_words(side)), ", ".join(what)))
    yield Table((), tuple(rows), words=(1,))
    yield w.steps.formulas("geometry.index", "free_length.handbook")
    difference = q.length(w.s.free_length.handbook_difference, places=2, signed=True)
    yield Text(
        shown.say(
            "The free length of the centreline is {model}; the handbook's differs by {difference}.",
            model=q.length(g.free_length),
            difference=difference,
        )
    )


def rate(w: Written) -> Iterator[Block]:
    """Yield rate, initial tension and load curve."""
    shown, s = w.shown, w.s
    yield Heading(shown.say("Rate and initial tension"))
    yield w.steps.formulas(
        "rate",
        "initial_tension.stress",
        "initial_tension.preferred_low",
        "initial_tension.preferred_high",
    )
    rows = [
        *(
            (shown.say("rate, {convention}", convention=shown.text(name)), shown.rate(x.rate))
            for name, x in s.rate_conventions.items()
        ),
        (shown.say("rate at small load, as drawn"), shown.rate(s.rates.small_load)),
    ]
    if s.rates.between_points is not None:
        rows.append((shown.say("rate between working points"), shown.rate(s.rates.between_points)))
    yield Table((shown.say("way"), shown.say("value")), tuple(rows))
    yield Text(
        shown.say(
            "The load curve is the wire's equilibrium, as a rod whose coils press on each other "
            "until they part; the textbook's straight line stands beside it."
        )
    )
    yield diagram(load_chart(s), shown.say("Load over length"), shown, 0.72)
