"""Stress relief of coiled springs where it is published, and what it does to them."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any, Literal, NamedTuple

from springgeo.text.safe_yaml import parse_own

Coil = Literal["shrinks", "opens", "not known"]


class Relief(NamedTuple):
    """Usual treatment: degC from ``low`` to ``high``, minutes; how the coil diameter answers."""

    low: float
    high: float
    minutes: float
    coil: Coil
    source: str
    known: str


class Loss(NamedTuple):
    """Share of the initial tension that the treatment takes, with its source."""

    low: float
    high: float
    source: str
    known: str


@cache
def _table() -> dict[str, Any]:
    path = files("springgeo.trade").joinpath("stress_relief.yaml")
    return parse_own(path.read_text(encoding="utf-8"))


def stress_relief(material: str) -> Relief | None:
    """Return the usual treatment of a material by its identifier, None where none was read."""
    row = _table()["materials"].get(material)
    if row is None:
        return None
    low, high = row["celsius"]
    return Relief(low, high, row["minutes"], row["coil"], _table()["source"], _table()["known"])


def tension_loss() -> Loss:
    """Return what the usual treatment takes from the initial tension of carbon steel springs."""
    return Loss(**_table()["tension_loss"])
