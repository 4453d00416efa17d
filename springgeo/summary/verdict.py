"""Whether a spring holds: the one place that weighs both methods and what is not known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from springgeo.results.place import Place
from springgeo.results.summary import Fatigue, Outcome, Verdict, Way, WirePoint, WorkingPoint
from springgeo.summary.handbook import Handbook
from springgeo.text.figures import figures
from springgeo.text.words import end_words

WAYS: tuple[Way, Way] = ("handbook", "along the wire")


class Weakest(NamedTuple):
    """The least margin of both methods at one load, and where."""

    margin: float
    place: Place
    way: Way


def weakest(book: WorkingPoint, wire: WirePoint) -> Weakest | None:
    """Return the least margin of both methods at a working point; None if nothing is stressed."""
    found = []
    points: tuple[WorkingPoint | WirePoint, ...] = (book, wire)
    for way, point in zip(WAYS, points, strict=True):
        margin = None if point.place is None else getattr(point.margin, point.governing)
        if margin is not None and point.place is not None:
            found.append(Weakest(margin, point.place, way))
    return min(found, key=lambda w: w.margin, default=None)


def verdict_facts(
    book: Handbook, along: Sequence[WirePoint], cycle: Fatigue | None
) -> Verdict | None:
    """Return the verdict on the highest load; None without a load that stresses anything."""
    every = [w for pair in zip(book.points, along, strict=True) if (w := weakest(*pair))]
    if not every:
        return None
    least, load = min(every, key=lambda w: w.margin), book.points[-1].load
    tired = cycle is not None and cycle.margin is not None and cycle.margin < 1
    reasons = tuple(not_judged(book, cycle))
    outcome: Outcome = "not judged" if reasons else "holds"
    if least.margin < 1 or tired:
        outcome = "fails"
    where = f"{least.place.words}, {_by(least.way)}"
    words = {
        "fails": f"FAILS at {figures(load)} N: margin {least.margin:.2f}, {where}",
        "not judged": f"NOT JUDGED whether it holds {figures(load)} N: {'; '.join(reasons)}; least "
        f"margin of what is computed {least.margin:.2f}, {where}",
        "holds": f"holds {figures(load)} N: least margin {least.margin:.2f}, {where}",
    }[outcome]
    if outcome == "fails" and least.margin >= 1 and cycle is not None and cycle.place is not None:
        words = (
            f"FAILS in fatigue: factor {cycle.margin:.2f}, {cycle.place.words}, "
            f"{_by(cycle.way or 'handbook')}; one pull to {figures(load)} N has margin "
            f"{least.margin:.2f}, {where}"
        )
    return Verdict(
        outcome=outcome,
        load=load,
        margin=least.margin,
        place=least.place,
        way=least.way,
        reasons=reasons,
        words=words,
    )


def not_judged(book: Handbook, cycle: Fatigue | None) -> Iterator[str]:
    """Yield what must hold but is not computed: without it nobody may say that a spring holds.

    Beyond the wire's temperatures there is no summary at all (``temperature.require_limits``).
    """
    model = book.model
    for end in (model.a, model.b):
        shape = getattr(model.geometry, end.side)
        if shape.parts:
            held = ", ".join(part.name for part in shape.parts)
            yield f"the pull-out of the {held} at the {end_words(end.side)} is not computed"
        elif not end.style.holds_load:
            yield f"what grips the {end_words(end.side)} ({end.style.title}) is not computed"
    if cycle is not None and cycle.margin is None:
        yield "no fatigue data are at hand for this wire and duty"


def _by(way: Way) -> str:
    return "by the handbook" if way == "handbook" else way
