"""How closely a maker holds what a load follows from; beyond a table by its last row, scaled."""

from __future__ import annotations

from bisect import bisect_left
from typing import Any, Literal, NamedTuple

import numpy as np

from springgeo.trade.dimension_tolerance import tables
from springgeo.units import FACTORS

Grade = Literal[1, 2, 3]


class Held(NamedTuple):
    """Plus and minus: mm, coils, or a share of the value for G and initial tension."""

    wire_diameter: float
    mean_diameter: float
    coils: float
    shear_modulus: float
    initial_tension: float
    free_length: float


def held(d: float, D: float, coils: float, free_length: float, grade: Grade = 2) -> Held:
    """Return what a maker holds; beyond a table its last row is scaled with the size.

    Grades 1 (fine) and 3 (coarse) change the mean diameter; free length is known for 2 alone.

    Parameters
    ----------
    d, D, free_length : float
        Wire diameter, mean diameter, length inside hooks, mm.
    coils : float
        Body coils.
    grade : {1, 2, 3}
        Grade of DIN 2097.
    """
    data, C = tables(), D / d
    wire, coil, length = (data[k] for k in ("wire_diameter", "mean_diameter", "free_length"))
    inch = FACTORS["length"][wire["unit"]]
    angle = np.interp(C, data["coils"]["index"], data["coils"]["degrees_per_coil"])
    long = length["up_to"][-1]
    return Held(
        inch * _row(wire["up_to"], wire["plus_minus"], d / inch),
        _cell(coil, grade, D, C),
        float(angle) * coils / 360,
        data["shear_modulus"]["share"],
        data["initial_tension"]["share"],
        length["share_above"] * free_length
        if free_length > long
        else _cell(length, 2, free_length, C),
    )


def sources() -> dict[str, tuple[str, str]]:
    """Return source, and how it is known, of each table by the fields of `Held`."""
    return {name: (tables()[name]["source"], tables()[name]["known"]) for name in Held._fields}


def _cell(table: dict[Any, Any], grade: int, size: float, C: float) -> float:
    column = min(bisect_left(table["index_up_to"], C * (1 - 1e-9)), len(table["index_up_to"]) - 1)
    rows = [row[column] for row in table[str(grade)]]
    return _row(table["up_to"][: len(rows)], rows, size)


def _row(up_to: list[float], values: list[float], size: float) -> float:
    n = bisect_left(up_to, size * (1 - 1e-9))
    return values[n] if n < len(values) else values[-1] * size / up_to[-1]
