"""The hooks: bending at A (top of the loop), torsion at B (the bend out of the body).

r_1 and r_2 are radii of the wire's centreline, as Shigley means them (Fig. 10-6). Collins prints
inner ones, d/2 less.

Parameters
----------
F, D, d : float or array
    The whole axial force, initial tension included, N; mean coil diameter, mm; wire diameter, mm.
K_A, K_B : float or array
    Factor from `K_A`; factor from `K_B` of this file, not the one of the body.
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.value import Value
from springgeo.worked.formula import formula


@formula
def bend_index(r: Value, d: Value) -> Value:
    """Return the curvature index of a loop or bend, C_1 = 2 r_1/d or C_2 = 2 r_2/d.

    Of a full round loop, r_1 = D/2, it is the spring index. Source: Shigley eq. 10-35, 10-37.
    Known: read. Dimensionless.

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
def sigma_A(F: Value, D: Value, d: Value, K_A: Value) -> Value:
    """Return the tensile stress at A, sigma_A = F [K_A 16 D/(pi d^3) + 4/(pi d^2)].

    Source: Shigley eq. 10-34. Known: read. In MPa.
    """
    return F * (16.0 * K_A * D / d + 4.0) / (np.pi * d * d)


@formula
def tau_B(F: Value, D: Value, d: Value, K_B: Value) -> Value:
    """Return the shear stress at B, tau_B = K_B 8 F D/(pi d^3).

    Source: Shigley eq. 10-36. Known: read. In MPa.
    """
    return K_B * 8.0 * F * D / (np.pi * (d * d * d))
