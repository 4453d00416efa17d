"""The hooks: bending at A (top of the loop), torsion at B (the bend out of the body).

r_1 and r_2 are radii of the wire's centreline. Some books print inner radii: see
`centreline_radius`.
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.value import Value
from springgeo.worked.formula import formula


@formula
def centreline_radius(r_inner: Value, d: Value) -> Value:
    """Return the centreline radius of a bend given by its inside, r = r_inner + d/2.

    Shigley means centreline radii in the factors at A and B; Collins gives inner radii. Source:
    Shigley Fig. 10-6; Collins ch. 14. Known: from memory. In mm.

    Parameters
    ----------
    r_inner, d : float or array
        Inner radius of loop or bend, mm; wire diameter, mm.
    """
    return r_inner + 0.5 * d


@formula
def bend_index(r: Value, d: Value) -> Value:
    """Return the curvature index of a loop or bend, C_1 = 2 r_1/d or C_2 = 2 r_2/d.

    A full round loop (r_1 = D/2) has C_1 = C. Source: Shigley eq. 10-35, 10-37. Known: read.
    Dimensionless.

    Parameters
    ----------
    r, d : float or array
        Centreline radius r_1 or r_2, mm; wire diameter, mm.
    """
    return 2.0 * r / d


@formula
def K_A(C_1: Value) -> Value:
    """Return the bending factor at A, K_A = (4 C_1^2 - C_1 - 1)/(4 C_1 (C_1 - 1)).

    The curved bar's factor at Poisson's ratio 0: finite elements find peaks 0.8 to 1.6 % higher
    in steel. Source: Shigley eq. 10-35. Known: read.

    Parameters
    ----------
    C_1 : float or array
        Curvature index of the loop, above 1.
    """
    return (4.0 * C_1 * C_1 - C_1 - 1.0) / (4.0 * C_1 * (C_1 - 1.0))


@formula
def K_B(C_2: Value) -> Value:
    """Return the torsion factor at B, K_B = (4 C_2 - 1)/(4 C_2 - 4).

    A convention more than a stress: finite elements find peaks 7 % lower to 23 % higher, by the
    shape of the bend. Source: Shigley eq. 10-37. Known: read.

    Parameters
    ----------
    C_2 : float or array
        Curvature index of the bend, above 1; books recommend 4 or more.
    """
    return (4.0 * C_2 - 1.0) / (4.0 * C_2 - 4.0)


@formula
def K_radius_ratio(r: Value, r_inner: Value) -> Value:
    """Return the older factor for A or B, the ratio of centreline to inner radius, K = r/r_inner.

    Higher than `K_A` and `K_B`. Source: older spring handbooks, quoted in Shigley and in
    Collins ch. 14. Known: from memory. Dimensionless.

    Parameters
    ----------
    r, r_inner : float or array
        Centreline and inner radius of the loop or bend, mm.
    """
    return r / r_inner


@formula
def sigma_A(F: Value, D: Value, d: Value, K_A: Value) -> Value:
    """Return the tensile stress at A, sigma_A = F [K_A 16 D/(pi d^3) + 4/(pi d^2)].

    Source: Shigley eq. 10-34. Known: read. In MPa.

    Parameters
    ----------
    F, D, d, K_A : float or array
        The whole axial force, initial tension included, N; mean coil diameter and wire diameter,
        mm; factor from `K_A`.
    """
    return F * (16.0 * K_A * D / d + 4.0) / (np.pi * d * d)


@formula
def tau_B(F: Value, D: Value, d: Value, K_B: Value) -> Value:
    """Return the shear stress at B, tau_B = K_B 8 F D/(pi d^3).

    Source: Shigley eq. 10-36. Known: read. In MPa.

    Parameters
    ----------
    F, D, d, K_B : float or array
        The whole axial force, initial tension included, N; mean coil diameter and wire diameter,
        mm; factor from `K_B` of this file, not the one of the body.
    """
    return K_B * 8.0 * F * D / (np.pi * (d * d * d))


@formula
def hook_equivalent_turns(r_2: Value, R: Value, h: Value, G: Value, E: Value) -> Value:
    """Return how many body turns one hook deflects like.

    n_h = [pi/4 r_2 R^2 (1/GJ + 1/EI) + h R^2/EI + pi/4 R^3/EI] GJ/(2 pi R^3), with J = 2I: a bend
    of radius r_2, a straight leg h, and a quarter loop of the body's radius. Good to 1 to 4 %
    against finite elements. Source: springgeo's own estimate, no handbook. Known: own estimate.

    Parameters
    ----------
    r_2, R, h, G, E : float or array
        Centreline radius of the bend, mm; mean radius of body and loop, D/2, mm; straight leg
        between bend and loop, mm; 0 for a half hook; shear and Young's modulus, MPa.

    Returns
    -------
    float or array
        n_h, turns, broadcast shape; handbooks say G/(2E), about 0.19.
    """
    g = 2.0 * G / E  # GJ/EI
    return (r_2 / R * (1.0 + g) + g) / 8.0 + g * h / (2.0 * np.pi * R)
