"""What is answered where a spring has no state: one line each."""

from __future__ import annotations

import math

from springgeo.errors import SpecError, refused
from springgeo.text import quantity as q
from springgeo.text.shown import said


def require_finite(name: str, value: float) -> None:
    """Raise SpecError unless a load or length is a finite number from zero up."""
    if not math.isfinite(value) or value < 0:
        raise refused("bad-value", name, f"{value} is not a finite number from zero up; give one")


def slack(length: float, free: float) -> SpecError:
    """Return the refusal of a length at which the spring is slack."""
    text = said(
        "{length} is below the free length {free}, where a hook would be loose; give a longer one",
        **q.lengths(6, length=length, free=free),
    )
    return refused("length-below-free", "length", text)


def slack_as_mounted(length: float, least: float, free: float) -> SpecError:
    """Return the refusal of a length at which the spring is slack between its pins, too."""
    text = said(
        "{length} is below the {least} from which on the spring is taut as it is mounted (its free "
        "length is {free}); give a longer one, or move the pins further aside",
        **q.lengths(6, length=length, least=least, free=free),
    )
    return refused("length-below-free", "length", text)


def not_wound(tension: float) -> SpecError:
    """Return the refusal of an initial tension that could not be wound in."""
    text = said(
        "no shape was found that parts its coils against {tension}; give fewer coils or less of it",
        tension=q.force(tension, 4),
    )
    return refused("tension-not-wound", "body.initial_tension", text)


def too_long(length: float, longest: float) -> SpecError:
    """Return the refusal of a length that nearly straightens the wire."""
    text = said(
        "{length} is more than the {longest} at which its wire is nearly drawn straight; give a "
        "shorter length",
        **q.lengths(6, length=length, longest=longest),
    )
    return refused("beyond-straight-wire", "length", text)


def too_much(load: float) -> SpecError:
    """Return the refusal of a load that nearly straightens the wire."""
    text = said(
        "{load} is more than what leaves its wire nearly drawn straight; lower it",
        load=q.force(load, 6),
    )
    return refused("beyond-straight-wire", "load", text)


def not_found(load: float) -> SpecError:
    """Return the refusal of a load at which the search did not settle."""
    return _not_settled("load", q.force(load, 6))


def not_found_at(length: float) -> SpecError:
    """Return the refusal of a length at which the search did not settle."""
    return _not_settled("length", q.length(length, 6))


def _not_settled(what: str, wanted: q.Quantity) -> SpecError:
    text = said(
        "no state of the spring was found at {wanted}: the search did not settle; give another "
        "{what}",
        wanted=wanted,
        what=what,
    )
    return refused("no-equilibrium", what, text)
