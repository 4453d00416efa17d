"""Whether a spring holds: the one place that weighs both methods and what is not known.

Pulled straight, as springs are made and measured, and as it is mounted where that is not straight.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from springgeo.message import Message
from springgeo.results.along_wire import WirePoint, WireStresses
from springgeo.results.fatigue import Fatigue
from springgeo.results.handbook import WorkingPoint
from springgeo.results.place import Place, Way
from springgeo.results.verdict import Outcome, Verdict
from springgeo.summary.handbook import Handbook
from springgeo.text import quantity as q
from springgeo.text.naming import end_words
from springgeo.text.shown import Value, said, together, word

WAYS: tuple[Way, Way] = ("handbook", "along the wire")
# a method, and whether as mounted: its name, and by what a margin is told
_WORDS: dict[tuple[Way, bool], tuple[Message, Message]] = {
    ("handbook", False): (word("handbook"), word("by the handbook")),
    ("along the wire", False): (word("along the wire"), word("along the wire")),
    ("handbook", True): (word("handbook, as mounted"), word("by the handbook, as mounted")),
    ("along the wire", True): (word("along the wire, as mounted"),) * 2,
}
WAY_WORDS = {way: _WORDS[way, False][0] for way in WAYS}


def way_words(way: Way, *, as_mounted: bool) -> Message:
    """Return a method in words, and whether it is that as mounted."""
    return _WORDS[way, as_mounted][0]


class Weakest(NamedTuple):
    """The least margin of both methods at one load, N, and where."""

    margin: float
    place: Place
    way: Way
    load: float
    as_mounted: bool = False

    @property
    def by(self) -> Message:
        """By which method, and whether as mounted, in words."""
        return _WORDS[self.way, self.as_mounted][1]

    @property
    def way_words(self) -> Message:
        """The method, and whether as mounted, in words."""
        return way_words(self.way, as_mounted=self.as_mounted)


def weakest(book: WorkingPoint, wire: WireStresses) -> Weakest | None:
    """Return the least margin of both methods at a working point; None if nothing is stressed."""
    found = []
    points: tuple[WorkingPoint | WireStresses, ...] = (book, wire)
    for way, point in zip(WAYS, points, strict=True):
        margin = None if point.place is None else getattr(point.margin, point.governing)
        if margin is not None and point.place is not None:
            found.append(Weakest(margin, point.place, way, book.load))
    return min(found, key=lambda w: w.margin, default=None)


def weakest_mounted(book: Handbook, wire: WireStresses) -> Weakest | None:
    """Return the least margin of both methods at a load as mounted.

    At a given length a spring bears another load as mounted: the handbook is asked for that. Where
    its pins push the spring it is asked for a pull of that size.
    """
    found = weakest(book.point(abs(wire.load), book.L_0), wire)
    return None if found is None else found._replace(load=wire.load, as_mounted=True)


def verdict_facts(
    book: Handbook, along: Sequence[WirePoint], there: Sequence[WirePoint], cycle: Fatigue | None
) -> Verdict | None:
    """Return the verdict on the highest load; None without a load that stresses anything.

    ``there`` are the working points as mounted, where that is not the straight pull.
    """
    pairs = list(zip(book.points, along, strict=True))
    if there:  # where it is slack pulled straight it is judged as mounted
        pairs = [pair for pair in pairs if not pair[0].is_slack]
    straight = [w for pair in pairs if (w := weakest(*pair))]
    mounted = [w for p in there if (w := weakest_mounted(book, p))]
    if not (straight or mounted):
        return None
    least = min((*straight, *mounted), key=lambda w: w.margin)
    load = max(p.load for p in (there if least.as_mounted else book.points))
    tired = cycle is not None and cycle.margin is not None and cycle.margin < 1
    reasons = tuple(not_judged(book, cycle))
    outcome: Outcome = "not judged" if reasons else "holds"
    if least.margin < 1 or tired:
        outcome = "fails"
    return Verdict(
        outcome=outcome,
        load=load,
        margin=least.margin,
        place=least.place,
        reasons=reasons,
        way=least.way,
        as_mounted=least.as_mounted,
        words=_words(outcome, load, least, reasons, cycle),
    )


def _words(
    outcome: Outcome, load: float, least: Weakest, reasons: Sequence[str], cycle: Fatigue | None
) -> Message:
    held: dict[str, Value] = {
        "load": q.force(load),
        "margin": q.factor(least.margin),
        "place": least.place.words,
        "way": least.by,
    }
    if outcome == "not judged":
        return said(
            "NOT JUDGED whether it holds {load}: {reasons}; least margin of what is computed "
            "{margin}, {place}, {way}",
            **held,
            reasons=together(*reasons, by="; "),
        )
    if outcome == "holds":
        return said("holds {load}: least margin {margin}, {place}, {way}", **held)
    if least.margin >= 1 and cycle is not None and cycle.place is not None:
        assert cycle.margin is not None
        return said(
            "FAILS in fatigue: factor {factor}, {tired}, {tired_way}; one pull to {load} has "
            "margin {margin}, {place}, {way}",
            **held,
            factor=q.factor(cycle.margin),
            tired=cycle.place.words,
            tired_way=_WORDS[cycle.way or "handbook", cycle.as_mounted][1],
        )
    return said("FAILS at {load}: margin {margin}, {place}, {way}", **held)


def not_judged(book: Handbook, cycle: Fatigue | None) -> Iterator[Message]:
    """Yield what must hold but is not computed: without it nobody may say that a spring holds.

    Beyond the wire's temperatures there is no summary at all (``temperature.require_limits``).
    """
    model = book.model
    for end in (model.first, model.second):
        shape = getattr(model.geometry, end.side)
        if shape.parts:
            held = together(*(word(part.name) for part in shape.parts), by=", ")
            yield said(
                "the pull-out of the {part} at the {end} is not computed",
                part=held,
                end=end_words(end.side),
            )
        elif not end.style.holds_load:
            yield said(
                "what grips the {end} ({style}) is not computed",
                end=end_words(end.side),
                style=word(end.style.title),
            )
    if cycle is not None and cycle.margin is None:
        yield word("no fatigue data are at hand for this wire and duty")
