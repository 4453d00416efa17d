"""Lengths: body, free length inside hooks, overall length, wire."""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.value import Value
from springgeo.worked.formula import formula


@formula
def body_length(N_b: Value, d: Value) -> Value:
    """Return the length of the close-wound body, L_b = (N_b + 1) d.

    Source: EN 13906-2 (there L_K); Mott ch. 19; Machinery's Handbook p. 328. Known: read. In
    mm.

    Parameters
    ----------
    N_b, d : float or array
        Body coils; wire diameter, mm.
    """
    return (N_b + 1.0) * d


@formula
def free_length(L_b: Value, L_h_a: Value, L_h_b: Value) -> Value:
    """Return the free length inside hooks, L_0 = L_b + L_h_a + L_h_b.

    Source: EN 13906-2, L_0 = L_K + 2 L_H; Norton eq. 14.20. Known: from memory. In mm.

    Parameters
    ----------
    L_b, L_h_a, L_h_b : float or array
        Body length, mm; hook lengths, inside of the hook to the end face of the body, mm.
    """
    return L_b + L_h_a + L_h_b


@formula
def free_length_full_loops(C: Value, N_b: Value, d: Value) -> Value:
    """Return the free length inside two full twisted loops, L_0 = (2C - 1 + N_b) d.

    Each loop is taken as D - d long. Source: Shigley eq. 10-39. Known: read. In mm.

    Parameters
    ----------
    C, N_b, d : float or array
        Spring index; body coils; wire diameter, mm.
    """
    return (2.0 * C - 1.0 + N_b) * d


@formula
def wire_length_body(N_b: Value, D: Value, d: Value) -> Value:
    """Return the wire in the close-wound body, N_b sqrt((pi D)^2 + d^2).

    Source: length of a helix of pitch d. Known: derived. In mm.

    Parameters
    ----------
    N_b, D, d : float or array
        Body coils; mean coil diameter and wire diameter, mm.
    """
    return N_b * np.hypot(np.pi * D, d)
