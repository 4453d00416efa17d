"""Springs drawn at random by their tolerances: a low-discrepancy sequence, the same for a seed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.specification.tolerances import Distribution
from springgeo.tolerance.inputs import Input

# a normal distribution's tolerance is taken as this many standard deviations, and cut there:
# common practice for a process that just holds its tolerance
SIGMAS = 3.0
# springs at a time: what is computed of them fits a cache
BLOCK = 1 << 14


def unit_draws(count: int, columns: int, seed: int) -> Iterator[Array]:
    """Yield points spread evenly over the unit cube, in blocks ``(columns, n)``.

    Scrambled Sobol' points (scipy). Source: A. B. Owen, 1995. Known: common practice.
    """
    from scipy.stats import qmc

    drawn = qmc.Sobol(columns, seed=seed)
    left = count
    while left > 0:
        n = min(BLOCK, left)
        yield np.ascontiguousarray(drawn.random(n).T)
        left -= n


def standard(u: Array, distribution: Distribution) -> Array:
    """Return deviations in half widths of the tolerance, -1 to 1, of uniform numbers.

    Parameters
    ----------
    u : array
        0 to 1.
    distribution : {"normal", "uniform"}
        Normal: three standard deviations are half the width, cut there.
    """
    if distribution == "uniform":
        return 2.0 * u - 1.0
    from scipy.special import ndtr, ndtri

    low = float(ndtr(-SIGMAS))
    return np.asarray(ndtri(low + u * (1.0 - 2.0 * low))) / SIGMAS


def deviations(inputs: Sequence[Input], z: Array) -> dict[str, Array]:
    """Return deviations by the names of inputs, of draws ``(inputs, n)`` from -1 to 1."""
    return {x.name: x.middle + x.half * row for x, row in zip(inputs, z, strict=True)}
