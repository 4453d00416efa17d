"""How far a spring may be pulled: what it holds, and what its wire cannot answer."""

from __future__ import annotations

from springgeo.errors import SpecError
from springgeo.findings import Finding, warning
from springgeo.message import Message
from springgeo.summary.verdict import Weakest, weakest, weakest_mounted
from springgeo.summary.wire import AlongWire
from springgeo.text import quantity as q
from springgeo.text.shown import said, together

_UNANSWERED = {"beyond-straight-wire", "no-equilibrium"}


def state_findings(
    wire: AlongWire, load: float, there: AlongWire | None = None
) -> tuple[Finding, ...]:
    """Return a warning where a state, by its load in N, is beyond what the spring holds.

    ``there``: the wire as mounted, where the state is; it is weighed as in the verdict.
    """
    found = [_least(wire, load)]
    # where its pins push it, no straight pull is like that
    if there is not None and load != 0.0:
        found.append(weakest_mounted(there.book, there.stressed(load)))
    least = min((x for x in found if x is not None), key=lambda x: x.margin, default=None)
    if least is None or least.margin >= 1:
        return ()
    text = said("{times}: it would set or break", times=_times(load, least))
    return (warning("state-overstressed", "state", text),)


def require_points(wire: AlongWire) -> None:
    """Raise SpecError where a working point is beyond what the wire can be drawn to."""
    service = wire.book.model.spec.service
    spectrum = (load for part in service.spectrum for load in part.loads or ())
    for load in (*service.loads, *spectrum):
        try:
            wire.book.length_at(load)
        except SpecError as exc:
            raise out_of_reach(wire, load, exc, "service") from None


def out_of_reach(
    wire: AlongWire, load: float | None, why: SpecError, field: str | None = None
) -> SpecError:
    """Return why a load has no length, with how many times beyond what the spring holds it is.

    A ``field`` renames what the findings are about.
    """
    beyond = load is not None and any(f.code in _UNANSWERED for f in why.findings)
    least = _least(wire, load) if beyond and load is not None else None
    held = None if load is None or least is None or least.margin >= 1 else _times(load, least)
    return SpecError(
        f.model_copy(
            update={
                "message": together(f.message, held, by="; ") if held else f.message,
                "field": field if beyond and field else f.field,
            }
        )
        for f in why.findings
    )


def _least(wire: AlongWire, load: float) -> Weakest | None:
    # an open-wound spring carries nothing at its free length
    return (
        weakest(wire.book.point(load, wire.curve.free_length), wire.stressed(load))
        if load > 0
        else None
    )


def _times(load: float, least: Weakest) -> Message:
    return said(
        "{load} is {times} times what the spring holds ({place}, {way})",
        load=q.force(load),
        times=q.number(1 / least.margin, 3),
        place=least.place.words,
        way=least.way_words,
    )
