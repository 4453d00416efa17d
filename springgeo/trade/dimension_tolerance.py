"""Manufacturing tolerances of diameter, free length and loop angle, from the data file."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any, Literal, NamedTuple

from springgeo.text.safe_yaml import parse_own

Trade = Literal["metric", "us"]
_INCH = 25.4


class Allowance(NamedTuple):
    """Plus and minus ``value`` (mm or deg), with its source and how that is known."""

    value: float
    source: str
    known: str


@cache
def _tables() -> dict[str, Any]:
    path = files("springgeo.trade").joinpath("dimension_tolerance.yaml")
    return parse_own(path.read_text(encoding="utf-8"))


def diameter_allowance(mean: float, index: float) -> Allowance | None:
    """Return the tolerance of the mean coil diameter, or None outside the table.

    Parameters
    ----------
    mean : float, mm
    index : float
        D/d.
    """
    table = _tables()["metric"]
    column = _column(index, table["diameter_index_from"], table["diameter_index"])
    if column is None or mean <= table["diameter_from"]:
        return None
    row = next((r for r in table["diameter"] if mean <= r[0]), None)
    return None if row is None else Allowance(row[column], table["source"], table["known"])


def length_allowance(length: float, index: float, trade: Trade) -> Allowance | None:
    """Return the tolerance of the free length inside hooks, mm, or None outside the table."""
    table = _tables()[trade]
    if trade == "us":
        row = next((r for r in table["length_inch"] if length <= r[0] * _INCH), None)
        value = None if row is None else row[1] * _INCH
    else:
        column = _column(index, table["length_index_from"], table["length_index"])
        if column is None:
            return None
        row = next((r for r in table["length"] if length <= r[0]), None)
        value = length * table["length_beyond_percent"] / 100 if row is None else row[column]
    return None if value is None else Allowance(value, table["source"], table["known"])


def angle_allowance(coils: float) -> Allowance | None:
    """Return the tolerance of the angle between loop planes, deg, or None: random."""
    table = _tables()["us"]
    row = next((r for r in table["angle"] if round(coils) <= r[0]), None)
    if row is None or coils < table["angle_from"] - 0.5:
        return None
    return Allowance(row[1], table["source"], table["known"])


def _column(index: float, low: float, tops: list[float]) -> int | None:
    if index < low:
        return None
    return next((k + 1 for k, top in enumerate(tops) if index <= top), None)
