"""Threads of studs and bolts by their standard names."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from springgeo.trade.table import table
from springgeo.units import FACTORS


class Thread(NamedTuple):
    """A thread of a coarse series: name, outside diameter and pitch, mm, its standards."""

    name: str
    diameter: float
    pitch: float
    standard: str
    fit: str


@cache
def threads() -> tuple[Thread, ...]:
    """Return the threads of ``threads.yaml``, metric before unified, by rising diameter."""
    found = []
    for series in table("threads").values():
        unit = FACTORS["length"][series["unit"]]
        for name, diameter, pitch in series["sizes"]:
            step = unit * pitch if series["unit"] == "mm" else unit / pitch
            found.append(Thread(name, diameter * unit, step, series["standard"], series["fit"]))
    return tuple(found)


def named(name: str) -> Thread | None:
    """Return a thread by its name, blanks and case aside, or None."""

    def key(text: str) -> str:
        return "".join(text.split()).casefold()

    return next((t for t in threads() if key(t.name) == key(name)), None)


def by_diameter(diameter: float) -> Thread | None:
    """Return the thread of that outside diameter, mm, within a thousandth of a mm, or None."""
    return next((t for t in threads() if abs(t.diameter - diameter) < 1e-3), None)


def nearest(diameter: float, low: float, high: float) -> Thread | None:
    """Return the metric thread nearest to a diameter, mm, within limits; None if none is."""
    metric = [t for t in threads() if t.name.startswith("M") and low <= t.diameter <= high]
    return min(metric, key=lambda t: (abs(t.diameter - diameter), t.diameter), default=None)
