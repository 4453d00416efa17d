"""Threads of studs and bolts by their standard names."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from springgeo.trade.table import table
from springgeo.units import FACTORS

# a series by the letters that stand for it in the names of its threads
SERIES = {"M": "metric", "UNC": "unified"}


class Thread(NamedTuple):
    """A thread of a coarse series: name, outside diameter and pitch, mm, its standards."""

    name: str
    diameter: float
    pitch: float
    standard: str
    fit: str
    series: str


@cache
def threads() -> tuple[Thread, ...]:
    """Return the threads of ``threads.yaml``, metric before unified, by rising diameter."""
    found = []
    for key, series in table("threads").items():
        unit = FACTORS["length"][series["unit"]]
        for name, diameter, pitch in series["sizes"]:
            step = unit * pitch if series["unit"] == "mm" else unit / pitch
            own = series["standard"], series["fit"], key
            found.append(Thread(name, diameter * unit, step, *own))
    return tuple(found)


def named(name: str) -> Thread | None:
    """Return a thread by its name, blanks and case aside, or None."""

    def key(text: str) -> str:
        return "".join(text.split()).casefold()

    return next((t for t in threads() if key(t.name) == key(name)), None)


def by_diameter(diameter: float) -> Thread | None:
    """Return the thread of that outside diameter, mm, within a thousandth of a mm, or None."""
    return next((t for t in threads() if abs(t.diameter - diameter) < 1e-3), None)


def nearest(diameter: float, low: float, high: float, series: str = "metric") -> Thread | None:
    """Return the thread of a series nearest to a diameter, mm, within limits; None if none is."""
    own = [t for t in threads() if t.series == series and low <= t.diameter <= high]
    return min(own, key=lambda t: (abs(t.diameter - diameter), t.diameter), default=None)
