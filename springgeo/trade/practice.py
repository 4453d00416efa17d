"""Single figures of the trade, each once, with its source."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from springgeo.trade.table import table


class Figure(NamedTuple):
    """A number, where it comes from, and how that is known."""

    value: float
    source: str
    known: str


@cache
def figures() -> dict[str, Figure]:
    """Return the figures of ``practice.yaml`` by name; units stand in their sources."""
    return {
        name: Figure(float(row["value"]), row["source"], row["known"])
        for name, row in table("practice").items()
    }


def practice(name: str) -> float:
    """Return a figure by its name."""
    return figures()[name].value
