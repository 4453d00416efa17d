"""States as words: ``free``, ``25N``, ``60mm``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from springgeo import units
from springgeo.errors import SpecError, refused


class WantedState(NamedTuple):
    """A state by name: a load in N, or a length in mm, or neither for the free spring."""

    name: str
    load: float | None = None
    length: float | None = None


def require_distinct(names: Sequence[str]) -> None:
    """Refuse names of states that come twice, whatever their case; raises SpecError."""
    low = [name.lower() for name in names]
    for name in low:
        if low.count(name) > 1:
            raise _refuse(f"'{name}' is given twice; name every state once")


def parse_state(word: str) -> WantedState:
    """Return the state that was asked for; raises SpecError."""
    name = "".join(word.split())
    if name.lower() == "free":
        return WantedState("free")
    if name[-1:].isdigit() or name[-1:] == ".":
        raise _refuse(f"'{word[:40]}' has no unit; write free, a load (25N) or a length (60mm)")
    for kind in ("load", "length"):
        try:
            value = units.parse(name, "force" if kind == "load" else kind)
        except ValueError:
            continue
        return WantedState(name, **{kind: value})
    several = "; repeat --state for several" if "," in word else ""
    raise _refuse(f"'{word[:40]}' is neither free, nor a load (25N), nor a length (60mm){several}")


def _refuse(message: str) -> SpecError:
    return refused("bad-state", "state", message)
