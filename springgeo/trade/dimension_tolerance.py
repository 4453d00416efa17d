"""Manufacturing tolerances of diameter, free length and loop angle, where a table reaches."""

from __future__ import annotations

from bisect import bisect_left
from functools import cache
from typing import Any, Literal, NamedTuple

from springgeo.trade.table import ROUNDING, table, within
from springgeo.units import FACTORS

Trade = Literal["metric", "us"]


class Allowance(NamedTuple):
    """Plus and minus ``value`` (mm or deg), with its source and how that is known."""

    value: float
    source: str
    known: str


@cache
def tables() -> dict[str, dict[str, Any]]:
    """Return the tables of ``dimension.yaml`` by name, with texts for keys."""
    return {k: {str(a): b for a, b in v.items()} for k, v in table("dimension").items()}


def wire_allowance(wire_diameter: float, standard: str) -> Allowance | None:
    """Return the tolerance of the wire diameter, mm, or None: another standard, outside it."""
    table = tables()["wire_diameter"]
    if table["standard"] not in standard:
        return None
    inch = FACTORS["length"][table["unit"]]
    value = _row(table["up_to"], table["plus_minus"], wire_diameter / inch)
    return _allowance(table, None if value is None else value * inch)


def diameter_allowance(mean: float, index: float, trade: Trade = "metric") -> Allowance | None:
    """Return the tolerance of the coil diameter that rules, or None outside the table.

    Parameters
    ----------
    mean : float, mm
        Mean diameter.
    index : float
        D/d.
    trade : {"metric", "us"}
        The table of DIN 2097 by mean diameter, or the US table of outside diameters by wire.
    """
    if trade == "us":
        table = tables()["outer_diameter_us"]
        inch = FACTORS["length"][table["unit"]]
        value = _cell(table, mean / index / inch, index)
        return _allowance(table, None if value is None else value * inch)
    table = tables()["mean_diameter"]
    if mean <= table["from"] * (1 + ROUNDING):
        return None
    return _allowance(table, _cell(table, mean, index))


def length_allowance(length: float, index: float, trade: Trade) -> Allowance | None:
    """Return the tolerance of the free length inside hooks, mm, or None outside the table."""
    if trade == "us":
        table = tables()["free_length_us"]
        inch = FACTORS["length"][table["unit"]]
        value = _row(table["up_to"], table["plus_minus"], length / inch)
        return _allowance(table, None if value is None else value * inch)
    table = tables()["free_length"]
    if length > table["up_to"][-1]:
        covered = within(table["index_from"], index, table["index_up_to"][-1])
        return _allowance(table, table["share_above"] * length if covered else None)
    return _allowance(table, _cell(table, length, index))


def general_allowance(size: float) -> Allowance | None:
    """Return the general tolerance of a linear size, mm, or None beyond the table."""
    table = tables()["general"]
    return _allowance(table, _row(table["up_to"], table["plus_minus"], size))


def mouth_allowance(mouth: float, wire_diameter: float) -> Allowance:
    """Return the tolerance of a hook's mouth, mm: no more than the mouth itself."""
    table = tables()["mouth"]
    return Allowance(
        min(mouth, table["wire_diameters"] * wire_diameter), table["source"], table["known"]
    )


def angle_allowance(coils: float) -> Allowance | None:
    """Return the tolerance of the angle between loop planes, deg, or None: random."""
    table = tables()["loop_angle_us"]
    if coils < table["coils_from"] - 0.5:
        return None
    return _allowance(table, _row(table["coils_up_to"], table["plus_minus"], round(coils)))


def _cell(table: dict[str, Any], size: float, index: float) -> float | None:
    """Return the figure of grade 2 for a size and an index."""
    column = bisect_left(table["index_up_to"], index * (1 - ROUNDING))
    if index < table["index_from"] * (1 - ROUNDING) or column == len(table["index_up_to"]):
        return None
    return _row(table["up_to"], [row[column] for row in table["2"]], size)


def _row(up_to: list[float], values: list[float], size: float) -> float | None:
    n = bisect_left(up_to, size * (1 - ROUNDING))
    return float(values[n]) if n < len(values) else None


def _allowance(table: dict[str, Any], value: float | None) -> Allowance | None:
    return None if value is None else Allowance(value, table["source"], table["known"])
