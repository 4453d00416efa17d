"""How far a spring may be pulled: what it holds, and where its wire would be straight."""

from __future__ import annotations

from springgeo.errors import SpecError
from springgeo.findings import Finding, error, warning
from springgeo.message import Message
from springgeo.spring.model import SpringModel
from springgeo.summary.verdict import WAY_WORDS, Weakest, weakest
from springgeo.summary.wire import AlongWire
from springgeo.text import quantity as q
from springgeo.text.shown import said, together


def straight_length(model: SpringModel) -> float:
    """Return the length inside hooks, mm, at which the loaded wire would be drawn straight.

    No centreline of this wire is longer between its contacts.
    """
    first, last = model.geometry.load_s
    return last - first + model.geometry.diameter


def state_findings(wire: AlongWire, load: float, length: float) -> tuple[Finding, ...]:
    """Return a warning where a state is beyond what the spring holds.

    Raises
    ------
    SpecError
        The length is beyond the straightened wire.
    """
    require_wire(wire, load, length, "state")
    least = _least(wire, load)
    if least is None or least.margin >= 1:
        return ()
    text = said("{times}: it would set or break", times=_times(load, least))
    return (warning("state-overstressed", "state", text),)


def require_wire(wire: AlongWire, load: float, length: float, field: str) -> None:
    """Raise SpecError where a length, mm, is beyond the straightened wire."""
    straight = straight_length(wire.book.model)
    if length >= straight:
        least = _least(wire, load)
        text = said(
            "{load} would pull it to {length}, longer than its wire drawn straight, {straight}",
            load=q.force(load),
            length=q.length(length),
            straight=q.length(straight),
        )
        if least is not None and least.margin < 1:
            text = together(text, _times(load, least), by="; ")
        raise SpecError(
            error("beyond-straight-wire", field, said("{reason}; lower it", reason=text))
        )


def out_of_reach(wire: AlongWire, load: float, length: float, why: SpecError) -> SpecError:
    """Return the one plain reason why a state cannot be drawn, if it is beyond what holds."""
    least = _least(wire, load)
    inner = {f.code for f in why.findings} & {"length-below-free", "bad-value"}
    if inner or least is None or least.margin >= 1:
        return why
    return SpecError(
        error(
            "state-out-of-reach",
            "state",
            said(
                "{times}, and at {length} its coils and hooks keep no shape that can be drawn; "
                "lower it",
                times=_times(load, least),
                length=q.length(length),
            ),
        )
    )


def _least(wire: AlongWire, load: float) -> Weakest | None:
    # an open-wound spring carries nothing at its free length
    return weakest(wire.book.point(load), wire.point(load)) if load > 0 else None


def _times(load: float, least: Weakest) -> Message:
    return said(
        "{load} is {times} times what the spring holds ({place}, {way})",
        load=q.force(load),
        times=q.number(1 / least.margin, 3),
        place=least.place.words,
        way=WAY_WORDS[least.way],
    )
