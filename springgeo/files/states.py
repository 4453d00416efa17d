"""States as words: ``free``, ``25N``, ``60mm``."""

from __future__ import annotations

from typing import NamedTuple

from springgeo import units
from springgeo.errors import SpecError
from springgeo.findings import error


class WantedState(NamedTuple):
    """A state by name: a load in N, or a length in mm, or neither for the free spring."""

    name: str
    load: float | None = None
    length: float | None = None


def parse_states(words: tuple[str, ...]) -> list[WantedState]:
    """Return the states that were asked for; raises SpecError."""
    states = [_parsed(word) for word in words]
    names = [s.name.lower() for s in states]
    for name in names:
        if names.count(name) > 1:
            raise _refuse(f"'{name}' is given twice; name every state once")
    return states


def _parsed(word: str) -> WantedState:
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
    return SpecError(error("bad-state", "state", message))
