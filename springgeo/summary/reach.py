"""How far a spring may be pulled: what it holds, and where its wire would be straight."""

from __future__ import annotations

from springgeo.errors import SpecError
from springgeo.findings import Finding, error, warning
from springgeo.spring.model import SpringModel
from springgeo.summary.verdict import Weakest, weakest
from springgeo.summary.wire import AlongWire
from springgeo.text.figures import figures, millimetres


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
    return (
        warning("state-overstressed", "state", f"{_times(load, least)}: it would set or break"),
    )


def require_wire(wire: AlongWire, load: float, length: float, field: str) -> None:
    """Raise SpecError where a length, mm, is beyond the straightened wire."""
    straight = straight_length(wire.book.model)
    if length >= straight:
        least = _least(wire, load)
        held = "" if least is None or least.margin >= 1 else f"; {_times(load, least)}"
        raise SpecError(
            error(
                "beyond-straight-wire",
                field,
                f"{figures(load)} N would pull it to {millimetres(length)} mm, longer than its "
                f"wire drawn straight, {millimetres(straight)} mm{held}; lower it",
            )
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
            f"{_times(load, least)}, and at {millimetres(length)} mm its coils and hooks keep no "
            "shape that can be drawn; lower it",
        )
    )


def _least(wire: AlongWire, load: float) -> Weakest | None:
    # an open-wound spring carries nothing at its free length
    return weakest(wire.book.point(load), wire.point(load)) if load > 0 else None


def _times(load: float, least: Weakest) -> str:
    return (
        f"{figures(load)} N is {figures(1 / least.margin, 3)} times what the spring holds "
        f"({least.place.words}, {least.way})"
    )
