"""What is to be small: each objective as a positive number, smaller is better."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.search.constraints import Block
from springgeo.trade.held import held_of_many


def least_margin(b: Block) -> Array:
    """Return the least reserve of the job: margin over least margin, all places and duties."""
    wanted = b.job.least
    found = b.made.margins[0] * (1 / wanted.body)
    for value, least in zip(
        b.made.margins[1:], (wanted.hook_bending, wanted.hook_torsion), strict=True
    ):
        found = np.minimum(found, value * (1 / least))
    if b.job.service.duty != "static":
        for value in b.made.fatigue:
            found = np.minimum(found, value * (1 / wanted.fatigue))
    return found


def _envelope(b: Block) -> Array:
    """Room taken at the longest length: the cylinder over the coils, to the inside of hooks."""
    outside = b.made.D + b.wires.d
    return outside * outside * (0.25 * np.pi * b.line.L_2)


# of a load's tolerance, what a load line that takes up all of it leaves
_LEFT = 1e-3


def _in_tolerance(b: Block) -> Array:
    """Return how wide the loads stray over what is left of their tolerance, at the worst point.

    Three standard deviations of the load at a length, by propagation of what makers hold (grade 2)
    through F = F_i + G d^4/(8 D^3 N_a) (L - L_0), Shigley eq. 10-9, over the tolerance less what
    the load line is off by: the less, the greater the share inside. Known: derived.
    """
    made, d = b.made, b.wires.d
    off_d, off_D, off_N, off_G, off_F, off_L = held_of_many(d, made.D, made.N_b, made.L_0)
    F_i = np.maximum(made.F_i, 0.0)
    beside = (off_F * F_i) ** 2 + (b.line.k * off_L) ** 2
    stiff = (4 * off_d / d) ** 2 + (3 * off_D / made.D) ** 2 + (off_N / made.N_a) ** 2 + off_G**2
    worst: Array = np.zeros(())
    for length, wanted, allowed in b.job.limited_loads(b.line):
        load = b.line.load(length)
        room = max(allowed - abs(load - wanted), _LEFT * allowed)
        spread = np.sqrt(np.maximum(load - F_i, 0.0) ** 2 * stiff + beside)
        worst = np.maximum(worst, spread / room)
    return worst


COSTS: Mapping[str, Callable[[Block], Array]] = MappingProxyType(
    {
        "mass": lambda b: b.made.mass,
        "envelope": _envelope,
        "margin": lambda b: 1.0 / least_margin(b),
        "cost": lambda b: b.made.mass * b.wires.cost,
        "free_length": lambda b: b.made.L_0,
        "natural_frequency": lambda b: 1.0 / b.made.frequency,
        "in_tolerance": _in_tolerance,
    }
)


def costs(block: Block) -> tuple[Array, ...]:
    """Return the job's objectives of every design, each broadcasting to (n, m)."""
    return tuple(COSTS[name](block) for name in block.job.objectives)
