"""Static strength: allowables as fractions of tensile strength, margins, required factors.

The fractions belong to the material and arrive as arguments. Tensile strength should be the
standard's minimum: a common power-law fit for music wire runs up to 6.8 % above it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from springgeo.mechanics.value import Mask, Value
from springgeo.worked.formula import formula


class Allowables(NamedTuple):
    """Allowable stress, MPa: shear in the body, bending at A, shear at B."""

    tau_body: Value
    sigma_A: Value
    tau_B: Value


class Governing(NamedTuple):
    """The least margin, and which of the margins handed over it is (counted from 0)."""

    margin: Value
    which: npt.NDArray[np.intp]


@formula
def allowables(S_ut: Value, body: Value, end_bending: Value, end_torsion: Value) -> Allowables:
    """Return allowable stresses as fractions of tensile strength, S = fraction S_ut.

    For corrected stresses. Typical static fractions: carbon and low-alloy steel 0.45, 0.75, 0.40;
    austenitic stainless and non-ferrous 0.35, 0.55, 0.30; for springs of high initial tension the
    end's fraction serves the body too. Source: Shigley Table 10-7. Known: read.

    Parameters
    ----------
    S_ut, body, end_bending, end_torsion : float or array
        Tensile strength, MPa; fractions for the body, for A and for B.

    Returns
    -------
    Allowables
        MPa, each of its broadcast shape.
    """
    return Allowables(
        allowable(body, S_ut), allowable(end_bending, S_ut), allowable(end_torsion, S_ut)
    )


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


@formula
def reserve(n: Value, n_required: Value) -> Value:
    """Return how far a safety factor exceeds the one required, n/n_required - 1.

    Source: springgeo's own measure: 0 just passes, 0.1 has a tenth to spare. Known: own estimate.

    Parameters
    ----------
    n, n_required : float or array
        Safety factors, found and required.
    """
    return n / n_required - 1.0


def passes(n: Value, n_required: Value) -> Mask:
    """Say where a safety factor is at least the one required.

    Source: definition. Known: common practice.

    Parameters
    ----------
    n, n_required : float or array
        Safety factors, found and required.

    Returns
    -------
    array of bool
        Broadcast shape.
    """
    return np.asarray(np.asarray(n) >= np.asarray(n_required))


def governing(*margins: Value) -> Governing:
    """Return the least of several margins and which one it is.

    Source: definition. Known: common practice.

    Parameters
    ----------
    *margins : float or array
        Safety factors, for instance at body, A and B.

    Returns
    -------
    Governing
        Each of the broadcast shape.
    """
    stacked = np.stack(np.broadcast_arrays(*margins))
    return Governing(stacked.min(axis=0)[()], np.asarray(stacked.argmin(axis=0)))


@formula
def force_limit(F: Value, n: Value, n_required: Value = 1.0) -> Value:
    """Return the load at which the required safety factor is just met, F n/n_required.

    Handbook stresses are proportional to the whole load, so one load's factor tells the limit.
    Source: definition. Known: derived. In N.

    Parameters
    ----------
    F, n, n_required : float or array
        Load the factor was found at, N; safety factors, found and required.
    """
    return F * n / n_required
