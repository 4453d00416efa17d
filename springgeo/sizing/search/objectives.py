"""What is to be small: each objective as a positive number, smaller is better."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.search.constraints import Block


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


COSTS: Mapping[str, Callable[[Block], Array]] = MappingProxyType(
    {
        "mass": lambda b: b.made.mass,
        "envelope": _envelope,
        "margin": lambda b: 1.0 / least_margin(b),
        "cost": lambda b: b.made.mass * b.wires.cost,
        "free_length": lambda b: b.made.L_0,
        "natural_frequency": lambda b: 1.0 / b.made.frequency,
    }
)


def costs(block: Block) -> tuple[Array, ...]:
    """Return the job's objectives of every design, each broadcasting to (n, m)."""
    return tuple(COSTS[name](block) for name in block.job.objectives)
