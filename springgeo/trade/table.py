"""The tables of this room, each read once from the YAML file beside it."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

from springgeo.text.safe_yaml import parse_own

# a size that misses a limit by the dust of a subtraction is at it: De 10.8 less d 1.2 over d is 8
ROUNDING = 1e-9


def within(low: float, value: float, high: float) -> bool:
    """Return whether a value above zero is from ``low`` to ``high``, or misses them by dust."""
    return low * (1 - ROUNDING) <= value <= high * (1 + ROUNDING)


@cache
def table(name: str) -> dict[str, Any]:
    """Return the content of ``<name>.yaml``; nobody changes it."""
    path = files("springgeo.trade").joinpath(f"{name}.yaml")
    return parse_own(path.read_text(encoding="utf-8"))
