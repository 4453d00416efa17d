"""Initial tension: force and stress, and the range that makers find easy to wind, by index.

The stress is always the uncorrected one; a range published with a factor is divided by it. The
ranges are advice with margins: all are fits of charts and differ by up to 10 % at their edges.
Outside `valid_index` they mean nothing.

Parameters
----------
C : float or array
    Spring index, 4 to 16: see `valid_index`.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from springgeo.mechanics.body import K_s, force_at_tau, tau_uncorrected
from springgeo.mechanics.value import Mask, Value
from springgeo.worked.formula import formula

MPA_PER_PSI = 0.45359237 * 9.80665 / 25.4**2
INDEX_LOW, INDEX_HIGH = 4.0, 16.0
# De 23.8 less d 1.4 over d is 16, but for the dust of the subtraction
_ROUNDING = 1e-9


class Range(NamedTuple):
    """A preferred range of uncorrected initial stress, MPa: lower edge, middle, upper edge."""

    low: Value
    middle: Value
    high: Value


@formula
def tau_i(F_i: Value, D: Value, d: Value) -> Value:
    """Return the uncorrected stress of an initial tension, tau_i = 8 F_i D/(pi d^3).

    Source: Shigley sec. 10-11; EN 13906-2 (there tau_0). Known: read. In MPa.

    Parameters
    ----------
    F_i, D, d : float or array
        Initial tension, N; mean coil diameter and wire diameter, mm.
    """
    return tau_uncorrected(F_i, D, d)


@formula
def F_i(tau_i: Value, D: Value, d: Value) -> Value:
    """Return the initial tension of an uncorrected stress, F_i = pi d^3 tau_i/(8 D).

    Source: Shigley sec. 10-11, solved for F_i. Known: read. In N.

    Parameters
    ----------
    tau_i, D, d : float or array
        Uncorrected initial stress, MPa; mean coil diameter and wire diameter, mm.
    """
    return force_at_tau(tau_i, D, d)


def valid_index(C: Value) -> Mask:
    """Say where the preferred ranges of this file mean anything: index 4 to 16, ends included.

    Source: extent of the charts behind Shigley eq. 10-41 and Norton eq. 14.21; springgeo applies
    it to the JIS form too. Known: from memory.

    Parameters
    ----------
    C : float or array
        Spring index.

    Returns
    -------
    array of bool
        True where valid, shape of C.
    """
    least, most = INDEX_LOW * (1 - _ROUNDING), INDEX_HIGH * (1 + _ROUNDING)
    return np.asarray((np.asarray(C) >= least) & (np.asarray(C) <= most))


def _exponential(C: Value, tau: float, spread: float) -> Range:
    middle = tau * np.exp(-0.105 * C)
    half_width = spread * (4.0 - (C - 3.0) / 6.5)
    return Range(middle - half_width, middle, middle + half_width)


@formula
def preferred_shigley(C: Value) -> Range:
    """Return the preferred range by 33500/exp(0.105 C) ± 1000 [4 - (C - 3)/6.5] psi, in MPa.

    Source: Shigley eq. 10-41, US constants. Known: from memory; reproduces Example 10-6.

    Returns
    -------
    Range
        tau_i, uncorrected, MPa, each of the shape of C.
    """
    return _exponential(C, 33500.0 * MPA_PER_PSI, 1000.0 * MPA_PER_PSI)


@formula
def preferred_norton(C: Value) -> Range:
    """Return the preferred range between two cubics in C over K_s, middle their mean.

    Lower edge -4.231 C^3 + 181.5 C^2 - 3387 C + 28640 psi, upper edge -2.987 C^3 + 139.7 C^2
    - 3427 C + 38404 psi: there a stress with the direct-shear factor K_s = 1 + 0.5/C, which is
    divided out here, so that F_i = pi d^3 tau_i/(8 K_s D) as in Norton's Example 14-5. Source:
    Norton eq. 14.21. Known: read.

    Returns
    -------
    Range
        tau_i, uncorrected, MPa, each of the shape of C.
    """
    uncorrected = MPA_PER_PSI / K_s(C)
    low = uncorrected * (((-4.231 * C + 181.5) * C - 3387.0) * C + 28640.0)
    high = uncorrected * (((-2.987 * C + 139.7) * C - 3427.0) * C + 38404.0)
    return Range(low, 0.5 * (low + high), high)


@formula
def tau_0_JIS(C: Value, G: Value) -> Value:
    """Return the initial stress to expect, tau_0 = G/(100 C).

    Source: JIS B 2704-1. Known: from memory, medium sureness. Uncorrected, in MPa.

    Parameters
    ----------
    C, G : float or array
        Spring index; see `valid_index`; shear modulus, MPa.
    """
    return G / (100.0 * C)


def place_in_range(tau_i: Value, preferred: Range) -> Value:
    """Return where a stress lies in a range: 0 at the lower edge, 1 at the upper.

    Source: springgeo's own measure. Known: own estimate. Below 0 or above 1 outside the
    range.

    Parameters
    ----------
    tau_i : float or array
        Uncorrected initial stress, MPa.
    preferred : Range
        From one of the functions of this file.
    """
    return (tau_i - preferred.low) / (preferred.high - preferred.low)
