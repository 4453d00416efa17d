"""The body: spring index, shear stress in the coils, and the factors for their curvature.

Powers are written as products: numpy multiplies some twenty times faster than it raises to 3.
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.value import Value
from springgeo.worked.formula import formula


@formula
def spring_index(D: Value, d: Value) -> Value:
    """Return the spring index, C = D/d.

    Source: Shigley eq. 10-1; EN 13906-2 (there w). Known: read. Dimensionless.

    Parameters
    ----------
    D, d : float or array
        Mean coil diameter, mm; wire diameter, mm.
    """
    return D / d


@formula
def tau_uncorrected(F: Value, D: Value, d: Value) -> Value:
    """Return the shear stress of pure torsion, tau = 8 F D / (pi d^3).

    Source: Shigley eq. 10-7 with K = 1; EN 13906-2 cl. 9.6. EN checks static loads, and
    everybody states initial tension, with this stress. Known: read. In MPa.

    Parameters
    ----------
    F, D, d : float or array
        The whole axial force, initial tension included, N; mean coil diameter and wire diameter,
        mm.
    """
    return 8.0 * F * D / (np.pi * (d * d * d))


@formula
def tau_corrected(F: Value, D: Value, d: Value, K: Value) -> Value:
    """Return the shear stress at the inside of the coil, tau = K 8 F D / (pi d^3).

    Source: Shigley eq. 10-7; EN 13906-2 (there tau_k). Known: read. In MPa.

    Parameters
    ----------
    F, D, d, K : float or array
        The whole axial force, initial tension included, N; mean coil diameter and wire diameter,
        mm; factor from `K_B`, `K_W`, `K_s` or `k_EN`.
    """
    return K * tau_uncorrected(F, D, d)


@formula
def force_at_tau(tau: Value, D: Value, d: Value, K: Value = 1.0) -> Value:
    """Return the force at which the body reaches a shear stress, F = pi d^3 tau / (8 K D).

    Source: Shigley eq. 10-7 solved for F. Known: derived. In N.

    Parameters
    ----------
    tau, D, d, K : float or array
        Shear stress, MPa, uncorrected where K is 1; mean coil diameter and wire diameter, mm;
        factor the stress includes.
    """
    return np.pi * (d * d * d) * tau / (8.0 * K * D)


@formula
def K_W(C: Value) -> Value:
    """Return the Wahl factor, K_W = (4C - 1)/(4C - 4) + 0.615/C.

    0.8 to 1.5 % above the exact ring solution. Source: Shigley eq. 10-4; Norton eq. 14.9b; Mott
    ch. 19. Known: read.

    Parameters
    ----------
    C : float or array
        Spring index, above 1.
    """
    return (4.0 * C - 1.0) / (4.0 * C - 4.0) + 0.615 / C


@formula
def K_B(C: Value) -> Value:
    """Return the Bergsträsser factor, K_B = (4C + 2)/(4C - 3).

    Within 0.15 % of the exact ring solution for C >= 3. Not to be confused with the hook factor
    at point B, which is `springgeo.mechanics.hook.K_B`. Source: Shigley eq. 10-5. Known: read.

    Parameters
    ----------
    C : float or array
        Spring index, above 1.
    """
    return (4.0 * C + 2.0) / (4.0 * C - 3.0)


@formula
def k_EN(w: Value) -> Value:
    """Return the stress correction factor of the EN standards, k = (w + 0.5)/(w - 0.75).

    Equal to `K_B` by algebra; used for dynamic loads only. Source: EN 13906-2 cl. 6. Known: from
    memory.

    Parameters
    ----------
    w : float or array
        Spring index, above 1.
    """
    return (w + 0.5) / (w - 0.75)


@formula
def K_s(C: Value) -> Value:
    """Return the direct-shear factor, K_s = 1 + 0.5/C.

    Direct shear without curvature, for static loads. Source: Norton eq. 14.8b. Known: read.

    Parameters
    ----------
    C : float or array
        Spring index.
    """
    return 1.0 + 0.5 / C
