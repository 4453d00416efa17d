"""Endurance strengths from published fatigue data, for shear in the wire and bending at A.

S_s... are strengths in shear, S_... in tension; subscript a alternating, m mean, e for a fully
reversed load, ut ultimate in tension, su (us in Norton) ultimate in shear.

Parameters
----------
peened : bool
    Whether the wire's surface was shot-peened.
"""

from __future__ import annotations

from typing import NamedTuple

from springgeo.mechanics.value import Value
from springgeo.worked.formula import formula
from springgeo.worked.number import recording, told


class FatiguePoint(NamedTuple):
    """Alternating and mean shear stress that spring wire just endures for ever, MPa."""

    S_sa: float
    S_sm: float


def zimmerli(peened: bool = False) -> FatiguePoint:
    """Return Zimmerli's strengths: 241 and 379 MPa, peened 398 and 534 MPa.

    For steel of any grade, d < 10 mm, with the corrected stress; in kpsi 35 and 55, peened 57.5
    and 77.5. Close-wound coils can hardly be peened. Source: Shigley eq. 10-28, 10-29. Known:
    read.

    Returns
    -------
    FatiguePoint
        MPa.
    """
    point = FatiguePoint(398.0, 534.0) if peened else FatiguePoint(241.0, 379.0)
    if not recording():
        return point
    source, words = "Shigley eq. 10-28, 10-29", "strength of Zimmerli's data, for ever"
    about = {"unit": "MPa", "source": source, "known": "read"}
    return FatiguePoint(
        told(point.S_sa, "data", symbol="S_sa", title=f"alternating {words}", **about),
        told(point.S_sm, "data", symbol="S_sm", title=f"mean {words}", **about),
    )


@formula
def S_su(S_ut: Value, ratio: Value = 0.67) -> Value:
    """Return the ultimate shear strength, S_su = 0.67 S_ut.

    Source: Shigley eq. 10-30; Norton eq. 14.4. Known: from memory; reproduces Shigley 10-7. In
    MPa.

    Parameters
    ----------
    S_ut, ratio : float or array
        Tensile strength, MPa; 0.67 by the books.
    """
    return ratio * S_ut


@formula
def S_e_gerber(S_a: Value, S_m: Value, S_u: Value) -> Value:
    """Return the reversed endurance strength by Gerber, S_e = S_a/(1 - (S_m/S_u)^2).

    Source: Shigley Example 10-7 (in shear: S_se, S_sa, S_sm, S_su). Known: from memory;
    reproduces the example. In MPa.

    Parameters
    ----------
    S_a, S_m, S_u : float or array
        Alternating strength, MPa; mean strength of the same life, MPa; ultimate strength of the
        same kind of stress, above S_m, MPa.
    """
    q = S_m / S_u
    return S_a / (1.0 - q * q)


@formula
def S_e_goodman(S_a: Value, S_m: Value, S_u: Value) -> Value:
    """Return the reversed endurance strength by Goodman, S_e = S_a/(1 - S_m/S_u).

    Source: Shigley sec. 10-9. Known: from memory. In MPa.

    Parameters
    ----------
    S_a, S_m, S_u : float or array
        Alternating strength, MPa; mean strength of the same life, MPa; ultimate strength of the
        same kind of stress, above S_m, MPa.
    """
    return S_a / (1.0 - S_m / S_u)


@formula
def S_e_bending(S_se: Value) -> Value:
    """Return the endurance strength for hook bending, S_e = S_se/0.577.

    Distortion energy turns shear into tension; used with S_ut. Source: Shigley Example 10-7.
    Known: from memory; reproduces the example.

    Parameters
    ----------
    S_se : float or array
        Endurance strength in shear, MPa.

    Returns
    -------
    float or array
        S_e, MPa, shape of S_se.
    """
    return S_se / 0.577


@formula
def S_e_from_repeated(S_r: Value, S_u: Value) -> Value:
    """Return the reversed strength from a repeated load's, S_e = (S_r/2)/(1 - (S_r/(2 S_u))^2).

    Turns a maximum-stress table for loads from zero (R = 0), given as fractions of S_ut, into
    an endurance strength by Gerber: half of S_r alternates about the other half. Source:
    Shigley ch. 10, problems, for Table 10-8. Known: from memory. In MPa.

    Parameters
    ----------
    S_r, S_u : float or array
        Maximum stress endured from zero, MPa; ultimate strength the mean part is compared with,
        MPa; the source uses S_ut for bending.
    """
    return S_e_gerber(0.5 * S_r, 0.5 * S_r, S_u)


def S_ew_norton(peened: bool = False) -> float:
    """Return the wire's torsional endurance strength for R = 0, 310 MPa, peened 465 MPa.

    45 and 67.5 kpsi, as a maximum stress; steel, d < 10 mm, infinite life. Extension springs
    cannot be peened or set for strength. Source: Norton eq. 14.13. Known: from memory.

    Returns
    -------
    float
        S_ew, MPa.
    """
    return 465.0 if peened else 310.0


@formula
def S_es_norton(S_ew: Value, S_us: Value) -> Value:
    """Return the reversed endurance in shear, S_es = 0.5 S_ew S_us/(S_us - 0.5 S_ew).

    Source: Norton ch. 14, among eq. 14.17 to 14.22. Known: from memory. In MPa.

    Parameters
    ----------
    S_ew, S_us : float or array
        Wire endurance strength for a load from zero, MPa; ultimate shear strength, MPa.
    """
    return 0.5 * S_ew * S_us / (S_us - 0.5 * S_ew)


@formula
def S_e_bending_norton(S_es: Value) -> Value:
    """Return the endurance strength for hook bending, S_e = S_es/0.67.

    Source: Norton ch. 14, among eq. 14.17 to 14.22. Known: from memory.

    Parameters
    ----------
    S_es : float or array
        Endurance strength in shear, MPa.

    Returns
    -------
    float or array
        S_e, MPa, shape of S_es.
    """
    return S_es / 0.67
