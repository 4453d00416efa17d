"""The load curve as a table that straight lines between its points follow closely."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.solved import Solved
from springgeo.errors import SpecError
from springgeo.findings import error

SCHEMA = "springgeo-load-curve/1"
# how far a straight line between two points may be off: share of the load there, but of no less
# than a fiftieth of the greatest
SHARE, FLOOR = 1e-3, 0.02
# points looked at from the beginning: shares of the initial tension, and of what is left beyond
_KNEE = (0.25, 0.5, 0.75, 0.9, 1.0, 1.1, 1.3)
_BEYOND = (0.25, 0.5, 0.75, 1.0)
# halvings of a stretch
_DEEPEST = 10

Told = Callable[[str], object]


@dataclass(frozen=True, eq=False)
class LoadTable:
    """Load over length inside hooks, from the free length on, in rising order.

    Attributes
    ----------
    length, load : (n,) float; mm, N
    rate : (n,) float, N/mm
        Slope of the curve.
    energy : (n,) float, N mm
        Stored since the free length, by straight lines between the points.
    off : float
        Greatest distance from the curve found between the points, as a share of the load there
        (of no less than a fiftieth of the greatest load).
    """

    length: Array
    load: Array
    rate: Array
    energy: Array
    off: float

    @classmethod
    def of(cls, curve: LoadCurve, most: float, told: Told = lambda _text: None) -> LoadTable:
        """Return the curve up to a load, N.

        Raises
        ------
        SpecError
            The load is not above zero, or beyond what the wire can be drawn to.
        """
        if not most > 0:
            text = f"{most:g} N is not a load above zero: a table needs one"
            raise SpecError(error("bad-value", "to", text))
        points = [_Point(0.0, 0.0, curve.rate(0.0))]
        worst, solve = 0.0, curve.one_way(most)
        for load in _loads(curve.initial_tension, most):
            told(f"load curve up to {load:.4g} N")
            here = _Point.of(solve(load))
            for point, off in _filled(solve, curve.least, points[-1], here, most, _DEEPEST):
                points.append(point)
                worst = max(worst, off)
        x, load, rate = np.array([(p.extension, p.load, p.rate) for p in points]).T
        area = np.diff(x) * (load[1:] + load[:-1]) / 2
        energy = np.concatenate([[0.0], np.cumsum(area)])
        return cls(curve.free_length + x, load, rate, energy, worst)

    @property
    def slopes(self) -> Array:
        """Slope of each straight line, ``(n − 1,) float, N/mm``."""
        found: Array = np.diff(self.load) / np.diff(self.length)
        return found

    def columns(self) -> dict[str, Array]:
        """Return the columns by name, with their unit."""
        return {
            "length_mm": self.length,
            "load_N": self.load,
            "rate_N_per_mm": self.rate,
            "energy_N_mm": self.energy,
        }

    def facts(self) -> dict[str, object]:
        """Return the table as JSON has it."""
        return {
            "points": [
                dict(zip(self.columns(), row, strict=True))
                for row in zip(*(c.tolist() for c in self.columns().values()), strict=True)
            ],
            "interpolation": "linear",
            "interpolation_error_percent": 100 * self.off,
        }


@dataclass(frozen=True)
class _Point:
    extension: float
    load: float
    rate: float

    @classmethod
    def of(cls, at: Solved) -> _Point:
        return cls(at.extension, at.load, 1 / at.compliance)


def _loads(tension: float, most: float) -> list[float]:
    knee = [share * tension for share in _KNEE if 0 < share * tension < most]
    start = knee[-1] if knee else 0.0
    return [*knee, *(start + share * (most - start) for share in _BEYOND)]


def _filled(
    solve: Callable[[float], Solved],
    least: float,
    a: _Point,
    b: _Point,
    most: float,
    left: int,
) -> Iterator[tuple[_Point, float]]:
    """Yield the points after a up to b, each with how far the line to it is off in its middle."""
    load = (a.load + b.load) / 2
    if load < least:
        yield b, 0.0
        return
    m = _Point.of(solve(load))
    share = (m.extension - a.extension) / (b.extension - a.extension)
    off = abs(m.load - (a.load + share * (b.load - a.load))) / max(load, FLOOR * most)
    if off <= SHARE or not left:
        yield b, off
        return
    yield from _filled(solve, least, a, m, most, left - 1)
    yield from _filled(solve, least, m, b, most, left - 1)
