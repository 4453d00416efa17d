"""Tolerance of load and rate: the published table where it reaches, else common practice."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from springgeo.trade.table import table, within
from springgeo.units import FACTORS

_INCH = FACTORS["length"]["in"]


class Tolerance(NamedTuple):
    """Plus and minus ``percent`` of the value, with its source and how that is known."""

    percent: float
    source: str
    known: str


def load_tolerance(
    index: float, wire_diameter: float, free_length: float, deflection: float
) -> Tolerance:
    """Return the tolerance of the load at a deflection.

    Interpolated in the ratio of free length to deflection, in wire diameter and in index,
    between 4 and 8 and 0.38 and 2.34 mm; elsewhere, and for no deflection, common practice.

    Parameters
    ----------
    index : float
        D/d.
    wire_diameter, free_length, deflection : float, mm
    """
    held = table("load_tolerance")
    sizes = _INCH * np.array(held["diameters_in"])
    low, high = min(held["index"]), max(held["index"])
    ratio = free_length / deflection if deflection > 0 else np.inf
    inside = (
        within(low, index, high)
        and within(sizes[0], wire_diameter, sizes[-1])
        and within(_ratios(low)[0], ratio, _ratios(low)[-1])
    )
    if not inside:
        return _fallback()
    ends = [_percent(c, ratio, wire_diameter, sizes) for c in (low, high)]
    percent = float(np.interp(index, [low, high], ends))
    return Tolerance(percent, held["source"], held["known"])


def rate_tolerance() -> Tolerance:
    """Return the tolerance of the rate: no table was read, so common practice."""
    return _fallback()


def _ratios(index: int) -> list[float]:
    return [float(row["ratio"]) for row in table("load_tolerance")["index"][index]]


def _percent(index: int, ratio: float, wire_diameter: float, sizes: np.ndarray) -> float:
    rows = table("load_tolerance")["index"][index]
    at_size = [float(np.interp(wire_diameter, sizes, row["percent"])) for row in rows]
    return float(np.interp(ratio, _ratios(index), at_size))


def _fallback() -> Tolerance:
    return Tolerance(**table("load_tolerance")["fallback"])
