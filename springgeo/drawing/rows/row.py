"""One line of the sheet's table, and what the sheet is drawn for: paper's trade and its reader."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from springgeo.results.measured import measured_points
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.trade.dimension_tolerance import Allowance, Trade


class Row(NamedTuple):
    """Symbol, quantity, value; a row without symbol and value is a heading.

    A note has no quantity: its value runs over both columns.
    """

    symbol: str
    quantity: str
    value: str


@dataclass(frozen=True)
class Sheet:
    """What every part of a sheet is made from."""

    model: SpringModel
    summary: Summary
    trade: Trade

    @property
    def loads_rule(self) -> bool:
        """Whether loads at lengths fix the free length, which is then for reference."""
        return len(measured_points(self.summary)) >= 2


def plus_minus(allowance: Allowance | None) -> float | None:
    """Return the plus and minus of an allowance, if any."""
    return None if allowance is None else allowance.value
