"""Closed forms of the round bar that yields, elastic-perfectly plastic: yardsticks of sections."""

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
