"""Stress relief of coiled springs where it is published, and what it does to them."""

from __future__ import annotations

from typing import Literal, NamedTuple

from springgeo.trade.table import table

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


def stress_relief(material: str) -> Relief | None:
    """Return the usual treatment of a material by its identifier, None where none was read."""
    held = table("stress_relief")
    row = held["materials"].get(material)
    if row is None:
        return None
    low, high = (round((x - 32) / 1.8, 1) for x in row["fahrenheit"])
    return Relief(
        low,
        high,
        row["minutes"],
        row["coil"],
        table("stress_relief")["source"],
        table("stress_relief")["known"],
    )


def tension_loss() -> Loss:
    """Return what the usual treatment takes from the initial tension of carbon steel springs."""
    return Loss(**table("stress_relief")["tension_loss"])
