"""How closely a maker holds what a load follows from; beyond a table by its last row, scaled."""

from __future__ import annotations

from typing import Any, Literal, NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt

from springgeo.trade.dimension_tolerance import tables
from springgeo.units import FACTORS

Grade = Literal[1, 2, 3]
Array: TypeAlias = npt.NDArray[np.float64]


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
    sizes = (np.asarray(x, dtype=np.float64) for x in (d, D, coils, free_length))
    return Held(*map(float, held_of_many(*sizes, grade=grade)))


def held_of_many(
    d: Array, D: Array, coils: Array, free_length: Array, *, grade: Grade = 2
) -> tuple[Array, Array, Array, Array, Array, Array]:
    """Return the same of arrays of springs, in the order of `Held`, each broadcast."""
    data, C = tables(), D / d
    wire, coil, length = (data[k] for k in ("wire_diameter", "mean_diameter", "free_length"))
    inch = FACTORS["length"][wire["unit"]]
    angle = np.interp(C, data["coils"]["index"], data["coils"]["degrees_per_coil"])
    own = np.asarray(wire["plus_minus"], dtype=np.float64)[:, None]
    long = length["up_to"][-1]
    return (
        inch * _rows(wire["up_to"], own, d / inch, np.zeros(np.shape(d), dtype=np.intp)),
        _cells(coil, grade, D, C),
        np.asarray(angle * coils / 360),
        np.asarray(data["shear_modulus"]["share"]),
        np.asarray(data["initial_tension"]["share"]),
        np.where(
            free_length > long,
            length["share_above"] * free_length,
            _cells(length, 2, free_length, C),
        ),
    )


def sources() -> dict[str, tuple[str, str]]:
    """Return source, and how it is known, of each table by the fields of `Held`."""
    return {name: (tables()[name]["source"], tables()[name]["known"]) for name in Held._fields}


def _cells(table: dict[Any, Any], grade: int, size: Array, C: Array) -> Array:
    columns = table["index_up_to"]
    column = np.minimum(np.searchsorted(columns, C * (1 - 1e-9)), len(columns) - 1)
    return _rows(table["up_to"], np.asarray(table[str(grade)], dtype=np.float64), size, column)


def _rows(up_to: list[float], values: Array, size: Array, column: npt.NDArray[np.intp]) -> Array:
    """Return figures ``values[row, column]``, the row by the size; beyond, the last one scaled."""
    last = len(values) - 1
    row = np.searchsorted(up_to[: last + 1], size * (1 - 1e-9))
    beyond = np.where(row > last, size / up_to[last], 1.0)
    return np.asarray(values[np.minimum(row, last), column] * beyond)
