"""Repeated load."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.findings import Finding, note, warning
from springgeo.message import Message
from springgeo.results.fatigue import Fatigue
from springgeo.summary.handbook import Handbook
from springgeo.summary.loaded import is_given
from springgeo.summary.verdict import way_words
from springgeo.text import quantity as q
from springgeo.text.shown import Value, said, word


def fatigue(book: Handbook, cycle: Fatigue | None) -> Iterator[Finding]:
    """Warn where the cycle is not endured, or not known."""
    duty = book.model.spec.service.duty
    if duty == "static":
        return
    if cycle is None:
        text = said("duty {duty} needs loads to judge; give two", duty=duty)
        yield note("cycle-missing", "service.loads", text)
    elif cycle.margin is None:
        yield warning("fatigue-unknown", "service.duty", cycle.method)
    elif cycle.margin < 1.0:
        values: dict[str, Value] = {
            "place": _cycle_place(cycle),
            "factor": q.factor(cycle.margin),
        }
        text = (
            said(
                "{place} has a fatigue factor of {factor}, below 1; shorten the longest length, "
                "or use more coils",
                **values,
            )
            if _by_length(book)
            else said(
                "{place} has a fatigue factor of {factor}, below 1; lower the highest load, or "
                "use thicker wire",
                **values,
            )
        )
        yield warning("fatigue", "service.cycles", text)


def _by_length(book: Handbook) -> bool:
    """Return whether the highest load of the cycle is that of a length that is given."""
    service = book.model.spec.service
    if not service.spectrum:
        return is_given(book, book.points[-1])
    return not any(part.loads for part in service.spectrum)


def _cycle_place(cycle: Fatigue) -> Message:
    if cycle.place is None or cycle.way is None:
        return word("the cycle")
    way = way_words(cycle.way, as_mounted=cycle.as_mounted)
    return said("{place} ({way})", place=cycle.place.words, way=way)
