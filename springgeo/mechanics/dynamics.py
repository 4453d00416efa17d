"""Natural frequency of the body, mass of its wire, and the energy it can release.

The frequencies hold only while every coil is open, that is above the initial tension: see
`coils_open`. Below it the body is a rigid bar.

Parameters
----------
k, m : float or array
    Rate, N/mm; mass of the active wire, kg.
g_c : float or array
    What makes a mass times an acceleration a force, kg mm/(N s^2).
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.value import Mask, Value
from springgeo.worked.formula import formula


@formula
def active_wire_mass(D: Value, d: Value, N_a: Value, rho: Value) -> Value:
    """Return the mass of the active wire, m = pi^2 d^2 D N_a rho/4.

    Source: Norton eq. 14.12b (there as a weight). Known: from memory. In kg.

    Parameters
    ----------
    D, d, N_a, rho : float or array
        Mean coil diameter and wire diameter, mm; active coils; density, kg/mm^3; carbon steel
        7.85e-6.
    """
    return 0.25 * np.pi**2 * d * d * D * N_a * rho


@formula
def f_both_held(k: Value, m: Value, g_c: Value = 1000.0) -> Value:
    """Return the lowest natural frequency with both ends held, f = (1/2) sqrt(g_c k/m).

    Books ask for 13 to 20 times the frequency of the load. Source: Norton eq. 14.12; Shigley
    eq. 10-25. Known: from memory. In Hz.
    """
    return 0.5 * np.sqrt(g_c * k / m)


@formula
def f_one_free(k: Value, m: Value, g_c: Value = 1000.0) -> Value:
    """Return the lowest natural frequency with one end free, f = (1/4) sqrt(g_c k/m).

    Source: Norton ch. 14; Shigley eq. 10-26. Known: from memory. In Hz.
    """
    return 0.25 * np.sqrt(g_c * k / m)


@formula
def f_e_EN(D: Value, d: Value, n: Value, G: Value, rho: Value) -> Value:
    """Return the lowest natural frequency, both ends held, f_e = 3560 d/(n D^2) sqrt(G/rho).

    The standard takes rho in kg/dm^3; it is converted here. Source: EN 13906-1. Known: from
    memory; the constant derived anew is 3559. In Hz.

    Parameters
    ----------
    D, d, n, G, rho : float or array
        Mean coil diameter and wire diameter, mm; active coils; shear modulus, MPa; density,
        kg/mm^3; carbon steel 7.85e-6.
    """
    return 3560.0 * d / (n * D * D) * np.sqrt(G / (1.0e6 * rho))


def coils_open(F_min: Value, F_i: Value) -> Mask:
    """Say where the natural frequencies of this file apply: the least load exceeds F_i.

    Source: the wave needs open coils. Known: derived.

    Parameters
    ----------
    F_min, F_i : float or array
        Least load in service and initial tension, N.

    Returns
    -------
    array of bool
        Broadcast shape.
    """
    return np.asarray(np.asarray(F_min) > np.asarray(F_i))


@formula
def stored_energy(F: Value, F_i: Value, s: Value) -> Value:
    """Return the work of the stroke, W = (F + F_i) s/2: what is released if an end breaks.

    Source: EN 13906-2 cl. 9.2. Known: from memory. In N mm (1000 make a joule).

    Parameters
    ----------
    F, F_i, s : float or array
        Load at the stroke's end and initial tension, N; deflection from the free length, mm.
    """
    return 0.5 * (F + F_i) * s
