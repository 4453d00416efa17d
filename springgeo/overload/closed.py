"""The closed form of round wire that yields in bending, elastic-perfectly plastic or hardening."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from springgeo.curve.frame import Array


def moment_of_curvature(
    curvature: ArrayLike, wire_diameter: float, modulus: float, limit: float, hardening: float = 0.0
) -> Array:
    """Return the bending moment, N mm, at a curvature of zero and up, 1/mm, from straight.

    The integral of the stress over the circle: with ``u = σ_y/(E κ r)``, the elastic core's share,
    ``M = σ_y r³ {[asin u − u √(1 − u²)(1 − 2u²)]/(2u) + (4/3)(1 − u²)^(3/2)}``, which tends to
    ``d³ σ_y/6``. A linear hardening adds its share of the elastic moment.

    Parameters
    ----------
    curvature : array_like
    wire_diameter : float, mm
    modulus, limit : float, MPa
        E and σ_y.
    hardening : float
        Slope of the stress beyond the limit over E, 0 to 1.
    """
    radius, curvature = wire_diameter / 2, np.asarray(curvature, dtype=float)
    elastic = modulus * np.pi * radius**4 / 4 * curvature
    u = np.minimum(limit / (modulus * radius * np.maximum(curvature, 1e-300)), 1.0)
    v = np.sqrt(1 - u * u)
    core = (np.arcsin(u) - u * v * (1 - 2 * u * u)) / (2 * np.maximum(u, 1e-300))
    # asin u loses its digits against u: its series, 4u²/3 − …
    core = np.where(u < 1e-3, 4 * u * u / 3, core)
    yielded = limit * radius**3 * (core + 4 / 3 * v**3)
    result: Array = np.where(u < 1.0, (1 - hardening) * yielded + hardening * elastic, elastic)
    return result
