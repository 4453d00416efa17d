"""Closed forms of the round bar that yields, elastic-perfectly plastic: numpy alone."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from springgeo.curve.frame import Array


def full_plastic_moment(wire_diameter: ArrayLike, limit: ArrayLike) -> Array:
    """Return ``d³ σ_y/6``, N mm, of a diameter, mm, and a yield stress, MPa.

    Textbooks of plasticity, plastic section modulus of the circle (from memory).
    """
    result: Array = np.asarray(wire_diameter, dtype=float) ** 3 * np.asarray(limit, dtype=float) / 6
    return result


def full_plastic_torque(wire_diameter: ArrayLike, limit: ArrayLike) -> Array:
    """Return ``π d³ τ_y/12``, N mm, of a diameter, mm, and a yield stress in shear, MPa.

    Textbooks of plasticity (from memory).
    """
    cube = np.asarray(wire_diameter, dtype=float) ** 3
    result: Array = np.pi * cube * np.asarray(limit, dtype=float) / 12
    return result


def torque_of_twist(twist: ArrayLike, wire_diameter: float, modulus: float, limit: float) -> Array:
    """Return the torque, N mm, at a twist of zero and up, rad/mm.

    ``T = T_y (4/3 − (r_y/r)³/3)`` with ``r_y = τ_y/(G θ)`` the radius of the elastic core.
    Textbooks of plasticity (from memory).

    Parameters
    ----------
    twist : array_like
    wire_diameter : float, mm
    modulus, limit : float, MPa
        G and τ_y.
    """
    radius, twist = wire_diameter / 2, np.asarray(twist, dtype=float)
    at_yield = np.pi * radius**3 * limit / 2
    core = np.minimum(limit / (modulus * radius * np.maximum(twist, 1e-300)), 1.0)
    elastic = modulus * np.pi * radius**4 / 2 * twist
    result: Array = np.where(core < 1.0, at_yield * (4 - core**3) / 3, elastic)
    return result


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
