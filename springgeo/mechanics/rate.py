"""Rate and deflection: active coils by three conventions, and the load line above F_i.

Below the initial tension F_i the spring is rigid; above it the load line starts at F_i.
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.value import Value


def N_a_modulus_ratio(N_b: Value, G: Value, E: Value) -> Value:
    """Return active coils with both hooks counted as G/E turns, N_a = N_b + G/E.

    Source: Shigley eq. 10-40. Known: read.

    Parameters
    ----------
    N_b : float or array
        Body coils.
    G, E : float or array
        Shear and Young's modulus, MPa.

    Returns
    -------
    float or array
        N_a, turns, broadcast shape.
    """
    return N_b + G / E


def N_a_half_coil_per_hook(N_b: Value, hooks: Value = 2.0) -> Value:
    """Return active coils with each hook counted as half a coil, N_a = N_b + hooks/2.

    Source: Machinery's Handbook 31st ed. p. 328, step 3. Known: read.

    Parameters
    ----------
    N_b : float or array
        Body coils.
    hooks : float or array
        Number of ends that are hooks or loops formed from the wire.

    Returns
    -------
    float or array
        N_a, turns, broadcast shape.
    """
    return N_b + 0.5 * hooks


def n_EN(n_t: Value, n_inactive: Value = 0.0) -> Value:
    """Return active coils of the EN standard, n = n_t for loops bent up from the body.

    Rolled-in and screwed-in ends hold coils that do not work. Source: EN 13906-2 cl. 9.9, as
    explained by a spring maker's sheet. Known: read.

    Parameters
    ----------
    n_t : float or array
        All coils of the body.
    n_inactive : float or array
        Coils held by rolled-in or screwed-in ends.

    Returns
    -------
    float or array
        n, turns, broadcast shape.
    """
    return n_t - n_inactive


def rate(G: Value, D: Value, d: Value, N_a: Value) -> Value:
    """Return the rate, k = G d^4/(8 D^3 N_a).

    Source: Shigley eq. 10-9; EN 13906-2 (there R). Known: read.

    Parameters
    ----------
    G : float or array
        Shear modulus, MPa.
    D, d : float or array
        Mean coil diameter and wire diameter, mm.
    N_a : float or array
        Active coils.

    Returns
    -------
    float or array
        k, N/mm, broadcast shape.
    """
    return G * (d * d) * (d * d) / (8.0 * (D * D * D) * N_a)


def N_a_for_rate(G: Value, D: Value, d: Value, k: Value) -> Value:
    """Return the active coils a rate asks for, N_a = G d^4/(8 D^3 k).

    Source: Shigley eq. 10-9 solved for N_a. Known: derived.

    Parameters
    ----------
    G : float or array
        Shear modulus, MPa.
    D, d : float or array
        Mean coil diameter and wire diameter, mm.
    k : float or array
        Rate, N/mm.

    Returns
    -------
    float or array
        N_a, turns, broadcast shape.
    """
    return rate(G, D, d, k)


def deflection(F: Value, F_i: Value, k: Value) -> Value:
    """Return the deflection under a load, y = (F - F_i)/k, and 0 below F_i.

    Source: Shigley sec. 10-11; EN 13906-2 cl. 9. Known: read.

    Parameters
    ----------
    F, F_i : float or array
        Load and initial tension, N.
    k : float or array
        Rate, N/mm.

    Returns
    -------
    float or array
        y, mm, broadcast shape.
    """
    return np.maximum(F - F_i, 0.0) / k


def deflection_per_coil(F: Value, F_i: Value, G: Value, D: Value, d: Value) -> Value:
    """Return the deflection of one active coil, f = 8 (F - F_i) D^3/(G d^4), and 0 below F_i.

    Source: Machinery's Handbook 31st ed. p. 328, step 2, as a formula. Known: read.

    Parameters
    ----------
    F, F_i : float or array
        Load and initial tension, N.
    G : float or array
        Shear modulus, MPa.
    D, d : float or array
        Mean coil diameter and wire diameter, mm.

    Returns
    -------
    float or array
        f, mm, broadcast shape.
    """
    return deflection(F, F_i, rate(G, D, d, 1.0))


def load_at_deflection(y: Value, F_i: Value, k: Value) -> Value:
    """Return the load that holds a deflection, F = F_i + k y.

    At y = 0 every load from 0 to F_i is possible and F_i is returned; a negative y does not
    exist and gives nan. Source: Shigley sec. 10-11. Known: read.

    Parameters
    ----------
    y : float or array
        Deflection from the free length, mm.
    F_i : float or array
        Initial tension, N.
    k : float or array
        Rate, N/mm.

    Returns
    -------
    float or array
        F, N, broadcast shape.
    """
    return np.where(np.asarray(y) >= 0.0, F_i + k * y, np.nan)[()]


def load_at_length(L: Value, L_0: Value, F_i: Value, k: Value) -> Value:
    """Return the load that holds a length, F = F_i + k (L - L_0); nan below the free length.

    Source: EN 13906-2 cl. 9 (there s = L - L_0). Known: read.

    Parameters
    ----------
    L, L_0 : float or array
        Length asked for and free length, both inside hooks, mm.
    F_i : float or array
        Initial tension, N.
    k : float or array
        Rate, N/mm.

    Returns
    -------
    float or array
        F, N, broadcast shape.
    """
    return load_at_deflection(L - L_0, F_i, k)


def length_at_load(F: Value, L_0: Value, F_i: Value, k: Value) -> Value:
    """Return the length under a load, L = L_0 + (F - F_i)/k, and L_0 below F_i.

    Source: EN 13906-2 cl. 9. Known: read.

    Parameters
    ----------
    F, F_i : float or array
        Load and initial tension, N.
    L_0 : float or array
        Free length inside hooks, mm.
    k : float or array
        Rate, N/mm.

    Returns
    -------
    float or array
        L, inside hooks, mm, broadcast shape.
    """
    return L_0 + deflection(F, F_i, k)
