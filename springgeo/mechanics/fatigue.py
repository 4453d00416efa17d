"""Safety factors under a load that goes up and down: alternating and mean stress against S_e.

Every factor serves shear (body, B) and bending (A): stress and strengths of one kind, corrected.

Parameters
----------
s_max, s_min : float or array
    Greatest and least value, N or MPa.
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.static_limits import margin
from springgeo.mechanics.value import Value
from springgeo.worked.formula import formula


@formula
def alternating(s_max: Value, s_min: Value) -> Value:
    """Return the alternating part of a stress or force, s_a = (s_max - s_min)/2.

    Source: Shigley eq. 10-31. Known: from memory; reproduces Example 10-7. In N or MPa.
    """
    return 0.5 * (s_max - s_min)


@formula
def mean(s_max: Value, s_min: Value) -> Value:
    """Return the mean part of a stress or force, s_m = (s_max + s_min)/2.

    Source: Shigley eq. 10-31. Known: from memory; reproduces Example 10-7. In N or MPa.
    """
    return 0.5 * (s_max + s_min)


@formula
def n_f_gerber(s_a: Value, s_m: Value, S_e: Value, S_u: Value) -> Value:
    """Return the Gerber safety factor, alternating and mean stress growing together.

    The root of n s_a/S_e + (n s_m/S_u)^2 = 1; the book's form (S_u/s_m)^2 (s_a/S_e)/2 [-1 +
    sqrt(1 + (2 s_m S_e/(S_u s_a))^2)] is the same number, but fails at s_m = 0 or s_a = 0.
    Source: Shigley Example 10-7. Known: from memory; reproduces the example. Dimensionless.

    Parameters
    ----------
    s_a, s_m, S_e, S_u : float or array
        Alternating and mean stress, MPa, not both 0; endurance and ultimate strength of the same
        kind, MPa.
    """
    a = s_a / S_e
    return 2.0 / (a + np.hypot(a, 2.0 * s_m / S_u))


@formula
def n_f_goodman(s_a: Value, s_m: Value, S_e: Value, S_u: Value) -> Value:
    """Return the Goodman safety factor, 1/n_f = s_a/S_e + s_m/S_u.

    Source: Shigley sec. 10-9. Known: from memory. Dimensionless.

    Parameters
    ----------
    s_a, s_m, S_e, S_u : float or array
        Alternating and mean stress, MPa, not both 0; endurance and ultimate strength of the same
        kind, MPa.
    """
    return 1.0 / (s_a / S_e + s_m / S_u)


@formula
def n_f_norton(s_a: Value, s_m: Value, s_min: Value, S_e: Value, S_u: Value) -> Value:
    """Return the Goodman safety factor when only the stroke grows and the least load stays.

    n_f = S_e (S_u - s_min)/(S_e (s_m - s_min) + S_u s_a). Source: Norton ch. 14, among eq.
    14.17 to 14.22. Known: from memory. Dimensionless.

    Parameters
    ----------
    s_a, s_m, s_min, S_e, S_u : float or array
        Alternating, mean and least stress, MPa; s_a above 0; endurance and ultimate strength of
        the same kind, MPa.
    """
    return S_e * (S_u - s_min) / (S_e * (s_m - s_min) + S_u * s_a)


@formula
def load_line_slope(tau_a: Value, tau_m: Value, tau_i: Value) -> Value:
    """Return the slope of the load line that starts at the preload, r = tau_a/(tau_m - tau_i).

    Source: Shigley Example 10-7. Known: from memory; reproduces the example. Dimensionless.

    Parameters
    ----------
    tau_a, tau_m, tau_i : float or array
        Alternating and mean stress, MPa; stress of the initial tension, corrected like the
        others, below tau_m, MPa.
    """
    return tau_a / (tau_m - tau_i)


@formula
def S_sa_y(r: Value, S_sy: Value, tau_i: Value) -> Value:
    """Return the alternating stress at which the load line meets yield, r (S_sy - tau_i)/(r + 1).

    Source: Shigley Example 10-7. Known: from memory; reproduces the example. In MPa.

    Parameters
    ----------
    r, S_sy, tau_i : float or array
        Slope from `load_line_slope`; yield strength in shear, MPa; stress of the initial tension,
        corrected, MPa.
    """
    return r * (S_sy - tau_i) / (r + 1.0)


@formula
def n_y(S_sa_y: Value, tau_a: Value) -> Value:
    """Return the safety factor against yield under a cyclic load, n_y = (S_sa)_y/tau_a.

    Source: Shigley Example 10-7. Known: from memory; reproduces the example. Dimensionless.

    Parameters
    ----------
    S_sa_y, tau_a : float or array
        Alternating stress at yield from `S_sa_y`, MPa; alternating stress, MPa.
    """
    return margin(S_sa_y, tau_a)
