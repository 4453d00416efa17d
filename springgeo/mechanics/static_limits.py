"""Static strength: allowables as fractions of tensile strength, margins, required factors.

The fractions belong to the material and arrive as arguments. Tensile strength should be the
standard's minimum: a common power-law fit for music wire runs up to 6.8 % above it.
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.value import Value
from springgeo.worked.formula import formula


@formula
def tau_zul_EN(R_m: Value, fraction: Value = 0.45) -> Value:
    """Return the EN allowable for the static, uncorrected shear stress, tau_zul = 0.45 R_m.

    Cold-coiled springs. Source: EN 13906-2 cl. 10.2, as quoted by a spring maker. Known: read.
    In MPa.

    Parameters
    ----------
    R_m, fraction : float or array
        Minimum tensile strength, MPa; 0.45 by the standard.
    """
    return fraction * R_m


@formula
def allowable(share: Value, S_ut: Value) -> Value:
    """Return the allowable stress of one place, S = share S_ut.

    Source: Shigley Table 10-7. Known: read.

    Parameters
    ----------
    share : float or array
        Fraction of tensile strength, of the material and the place.
    S_ut : float or array
        Tensile strength, MPa.

    Returns
    -------
    float or array
        S, MPa, broadcast shape.
    """
    return share * S_ut


@formula
def margin(S: Value, s: Value) -> Value:
    """Return the safety factor, n = S/s; infinite for no stress.

    Source: Shigley sec. 10-11, Example 10-6. Known: from memory. Dimensionless.

    Parameters
    ----------
    S, s : float or array
        Allowable stress and stress, MPa, of one kind; the stress not negative.
    """
    with np.errstate(divide="ignore"):
        return np.true_divide(S, s)
