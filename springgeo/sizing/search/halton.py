"""Low-discrepancy points: Halton's sequence, and normal deviates cut at a number of sigmas."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np

from springgeo.mechanics.value import Array

PRIMES = (2, 3, 5, 7, 11, 13, 17, 19)


def halton(count: int, dimensions: int) -> Array:
    """Return points in the open unit cube ``(count, dimensions)``, at most 8 dimensions.

    Source: J. H. Halton, 1960, radical inverse in prime bases. Known: from memory.
    """
    out = np.empty((count, dimensions))
    for column, base in enumerate(PRIMES[:dimensions]):
        left = np.arange(1, count + 1)
        value, scale = np.zeros(count), 1.0
        while left.any():
            scale /= base
            value += scale * (left % base)
            left //= base
        out[:, column] = value
    return out


def cut_normal(u: Array, sigmas: float) -> Array:
    """Return standard normal deviates cut at ± ``sigmas`` of uniform ``u`` in (0, 1)."""
    normal = NormalDist()
    low = normal.cdf(-sigmas)
    inverse = np.frompyfunc(normal.inv_cdf, 1, 1)
    return np.asarray(inverse(low + u * (1 - 2 * low)), dtype=np.float64)
