"""How far the load at a length strays when every dimension is held as makers hold it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.search.halton import cut_normal, halton
from springgeo.summary import Summary
from springgeo.trade.held import Grade, Held, held

COUNT = 4096
# a tolerance is taken as this many standard deviations of a normal distribution, cut there:
# common practice for a process that just holds its tolerance
SIGMAS = 3.0


@dataclass(frozen=True)
class Spread:
    """The load at one length inside hooks, N and mm.

    ``low`` and ``high`` hold 99.73 % of springs; ``chance`` is the share within ``allowed`` of
    ``wanted``. ``shares`` of the variance by dimension, greatest first.
    """

    length: float
    wanted: float
    allowed: float
    mean: float
    deviation: float
    low: float
    high: float
    chance: float
    shares: dict[str, float]


class Asked(NamedTuple):
    """A length inside hooks, mm, with what the nominal spring does there and what is wanted.

    ``load``, N, and ``rate``, N/mm, are those of its load line at the length; ``allowed`` is the
    tolerance of the load ``wanted``, N.
    """

    length: float
    load: float
    rate: float
    wanted: float
    allowed: float


def spreads(
    summary: Summary, points: Sequence[Asked], grade: Grade = 2, count: int = COUNT
) -> tuple[Spread, ...]:
    """Return the spread of the load at lengths, by points spread evenly over the tolerances.

    What the load is above F_i goes with G d^4/(D^3 N_a), F_i with tau_i d^3/D, and a longer free
    length takes its share of the rate there. Wire, coil, turns, modulus, initial stress and free
    length stray independently of each other. Source: Shigley eq. 10-9. Known: derived.

    Parameters
    ----------
    summary : Summary
        Of the nominal spring.
    points : sequence of Asked
    grade : {1, 2, 3}
        Grade of DIN 2097.
    count : int
        Springs drawn.
    """
    g = summary.geometry
    held_to = held(g.wire_diameter, g.mean_diameter, g.body_coils, g.free_length, grade)
    drawn = _drawn(count)
    found = []
    for at in points:
        load = _load(summary, at, drawn * np.array(held_to))
        alone = [
            float(_load(summary, at, np.where(column, drawn, 0.0) * np.array(held_to)).var())
            for column in np.eye(len(Held._fields), dtype=bool)
        ]
        low, high = np.quantile(load, [0.00135, 0.99865])
        order = np.argsort(alone)[::-1]
        found.append(
            Spread(
                at.length,
                at.wanted,
                at.allowed,
                float(load.mean()),
                float(load.std()),
                float(low),
                float(high),
                float((np.abs(load - at.wanted) <= at.allowed).mean()),
                {Held._fields[i]: alone[i] / sum(alone) for i in order},
            )
        )
    return tuple(found)


@cache
def _drawn(count: int) -> Array:
    """Return deviations in shares of the tolerance ``(count, 6)``, the same ones each time."""
    return cut_normal(halton(count, len(Held._fields)), SIGMAS) / SIGMAS


def _load(s: Summary, at: Asked, off: Array) -> Array:
    """Return the load at a length for deviations ``(n, 6)`` in the order of `Held`, N."""
    g, force = s.geometry, s.initial_tension.force
    d, D = (1 + off[:, 0] / g.wire_diameter), (1 + off[:, 1] / g.mean_diameter)
    N, G = 1 + off[:, 2] / s.active_coils, 1 + off[:, 3]
    stiff = G * d**4 / (D**3 * N)
    F_i = force * (1 + off[:, 4]) * d**3 / D
    return np.asarray(F_i + stiff * np.maximum(at.load - force - at.rate * off[:, 5], 0.0))
