"""Rate and deflection: active coils by three conventions, and the load line above F_i.

Below the initial tension F_i the spring is rigid; above it the load line starts at F_i.
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.value import Value
from springgeo.worked.formula import formula


@formula
def N_a_modulus_ratio(N_b: Value, G: Value, E: Value) -> Value:
    """Return active coils with both hooks counted as G/E turns, N_a = N_b + G/E.

    Source: Shigley eq. 10-40. Known: read. In turns.

    Parameters
    ----------
    N_b, G, E : float or array
        Body coils; shear and Young's modulus, MPa.
    """
    return N_b + G / E


@formula
def N_a_hooks(N_b: Value, G: Value, E: Value, n_h: Value) -> Value:
    """Return the active coils with each hook counted as G/(2 E) turns, N_a = N_b + G/E n_h/2.

    Source: Shigley eq. 10-40, half of its share for one hook. Known: derived.

    Parameters
    ----------
    N_b : float or array
        Body coils, those that ends wind beside them included.
    G, E : float or array
        Shear and Young's modulus, MPa.
    n_h : float or array
        Hooks, in hooks bent on the body's own coils.

    Returns
    -------
    float or array
        N_a, turns, broadcast shape.
    """
    return N_b + G / E * n_h / 2.0


@formula
def N_a_half_coil_per_hook(N_b: Value, hooks: Value = 2.0) -> Value:
    """Return active coils with each hook counted as half a coil, N_a = N_b + hooks/2.

    Source: Machinery's Handbook 31st ed. p. 328, step 3. Known: read. In turns.

    Parameters
    ----------
    N_b, hooks : float or array
        Body coils; number of ends that are hooks or loops formed from the wire.
    """
    return N_b + 0.5 * hooks


@formula
def n_EN(n_t: Value, n_inactive: Value = 0.0) -> Value:
    """Return active coils of the EN standard, n = n_t for loops bent up from the body.

    Rolled-in and screwed-in ends hold coils that do not work. Source: EN 13906-2 cl. 9.9, as
    explained by a spring maker's sheet. Known: read. In turns.

    Parameters
    ----------
    n_t, n_inactive : float or array
        All coils of the body; coils held by rolled-in or screwed-in ends.
    """
    return n_t - n_inactive


@formula
def rate(G: Value, D: Value, d: Value, N_a: Value) -> Value:
    """Return the rate, k = G d^4/(8 D^3 N_a).

    Source: Shigley eq. 10-9; EN 13906-2 (there R). Known: read. In N/mm.

    Parameters
    ----------
    G, D, d, N_a : float or array
        Shear modulus, MPa; mean coil diameter and wire diameter, mm; active coils.
    """
    return G * (d * d) * (d * d) / (8.0 * (D * D * D) * N_a)


@formula
def N_a_for_rate(G: Value, D: Value, d: Value, k: Value) -> Value:
    """Return the active coils a rate asks for, N_a = G d^4/(8 D^3 k).

    Source: Shigley eq. 10-9 solved for N_a. Known: derived. In turns.

    Parameters
    ----------
    G, D, d, k : float or array
        Shear modulus, MPa; mean coil diameter and wire diameter, mm; rate, N/mm.
    """
    return rate(G, D, d, k)


@formula
def deflection(F: Value, F_i: Value, k: Value) -> Value:
    """Return the deflection under a load, y = (F - F_i)/k, and 0 below F_i.

    Source: Shigley sec. 10-11; EN 13906-2 cl. 9. Known: read. In mm.

    Parameters
    ----------
    F, F_i, k : float or array
        Load and initial tension, N; rate, N/mm.
    """
    return np.maximum(F - F_i, 0.0) / k


@formula
def deflection_per_coil(F: Value, F_i: Value, G: Value, D: Value, d: Value) -> Value:
    """Return the deflection of one active coil, f = 8 (F - F_i) D^3/(G d^4), and 0 below F_i.

    Source: Machinery's Handbook 31st ed. p. 328, step 2, as a formula. Known: read. In mm.

    Parameters
    ----------
    F, F_i, G, D, d : float or array
        Load and initial tension, N; shear modulus, MPa; mean coil diameter and wire diameter, mm.
    """
    return deflection(F, F_i, rate(G, D, d, 1.0))


@formula
def length_at_load(F: Value, L_0: Value, F_i: Value, k: Value) -> Value:
    """Return the length under a load, L = L_0 + (F - F_i)/k, and L_0 below F_i.

    Source: EN 13906-2 cl. 9. Known: read. Inside hooks, in mm.

    Parameters
    ----------
    F, F_i, L_0, k : float or array
        Load and initial tension, N; free length inside hooks, mm; rate, N/mm.
    """
    return L_0 + deflection(F, F_i, k)
