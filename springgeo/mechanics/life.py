"""One fatigue model: stress range, mean stress and life judged together, down to no range at all.

What is published about a place is a largest stress endured from zero (R = 0) at a few lives, and
Zimmerli's strength for ever. Each is a point on a Gerber and on a Goodman line. The strength from
zero, S_r, follows straight lines on log-log paper between the lives; before the first life the
first strength is kept; after the last one the last line goes on until it meets the strength for
ever. The factor is the least of Gerber's, Goodman's and the static one on the highest stress: it
is continuous, never rises with cycles, amplitude or mean stress, and becomes the static margin as
the range vanishes. Between two published lines through one published point the lower is taken.

Sources: Shigley Table 10-8 and the problems that turn its S_r into S_e; eq. 10-28 to 10-30 and
Example 10-7. Known: from memory, the example reproduced.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, cast

import numpy as np

from springgeo.mechanics import endurance, fatigue, static_limits
from springgeo.mechanics.value import Array, Value
from springgeo.worked.arrays import array, greatest, known_least, least, where
from springgeo.worked.formula import formula
from springgeo.worked.number import recording, told

ENDLESS = float("inf")


class Endured(NamedTuple):
    """What one place endures, MPa: everything the model asks of a material.

    ``lives`` (k,) rise, cycles; ``S_r`` (k, ...) are the strengths from zero at them; ``for_ever``
    the strength from zero at endless life by Gerber's and by Goodman's line, NaN where nothing is
    published; ``S_u`` the ultimate and ``S_y`` the static strength of the same kind of stress.
    The shapes after k are those of the wires.
    """

    lives: Array
    S_r: Array
    for_ever: tuple[Value, Value]
    S_u: Value
    S_y: Value


class Lines(NamedTuple):
    """Fully reversed strengths at one life, MPa: where both lines meet the axis of no mean."""

    gerber: Array
    goodman: Array


def S_r_at(N: float, place: Endured, line: int) -> Array:
    """Return the stress endured from zero for N cycles, MPa; NaN where nothing is published.

    Parameters
    ----------
    N : float
        Cycles, above 0, or infinite.
    place : Endured
    line : int
        0 for Gerber, 1 for Goodman: they differ in the strength for ever alone.
    """
    for_ever: Array = array(place.for_ever[line])
    lives, S_r = place.lives, place.S_r
    if len(lives) == 0:
        return for_ever
    m = fall(place)
    found: Value
    if lives[-1] >= N:
        found = _between(N, lives, S_r)
    else:
        with np.errstate(over="ignore"):
            found = S_r_beyond(N, lives[-1], S_r[-1], greatest(m, 1e-300))
        # this keeps the NaN of a wire about which nothing more is published
        found = least(greatest(found, for_ever), S_r[-1])
    # where the last line does not fall, it never comes down to the strength for ever
    return array(where(m > 0, found, known_least(found, for_ever)))


@formula
def S_r_between(N: Value, N_1: Value, N_2: Value, S_1: Value, S_2: Value) -> Value:
    """Return the stress endured from zero between two lives of the table.

    A straight line on log-log paper. Source: Shigley Table 10-8, read so between its lives.
    Known: own estimate.

    Parameters
    ----------
    N, N_1, N_2 : float or array
        The life asked for, the table's next lower and next higher one, cycles.
    S_1, S_2 : float or array
        Strengths from zero at these, MPa.

    Returns
    -------
    float or array
        S_r, MPa, broadcast shape.
    """
    return S_1 * (S_2 / S_1) ** (np.log(N / N_1) / np.log(N_2 / N_1))


@formula
def S_r_beyond(N: Value, N_k: Value, S_k: Value, m: Value) -> Value:
    """Return the stress endured from zero beyond the last life of the table.

    The last line on log-log paper goes on. Source: Shigley Table 10-8, carried on beyond its last
    life. Known: own estimate.

    Parameters
    ----------
    N, N_k : float or array
        The life asked for, and the table's last one, cycles.
    S_k : float or array
        Strength from zero at that, MPa.
    m : float or array
        How steeply the last line falls.

    Returns
    -------
    float or array
        S_r, MPa, broadcast shape.
    """
    return S_k * (N / N_k) ** -m


@formula
def slope(N_1: Value, N_2: Value, S_1: Value, S_2: Value) -> Value:
    """Return how steeply a line falls on log-log paper.

    Source: definition. Known: derived.

    Parameters
    ----------
    N_1, N_2 : float or array
        Lives, cycles.
    S_1, S_2 : float or array
        Strengths from zero at these, MPa.

    Returns
    -------
    float or array
        m, dimensionless, broadcast shape.
    """
    return np.log(S_1 / S_2) / np.log(N_2 / N_1)


def _between(N: float, lives: Array, S_r: Array) -> Array:
    """Return the strength on the lines between the lives; the first one's before them."""
    if len(lives) == 1 or lives[0] >= N:
        return array(S_r[0])
    i = int(np.searchsorted(lives, N))
    return array(S_r_between(N, lives[i - 1], lives[i], S_r[i - 1], S_r[i]))


def fall(place: Endured) -> Array:
    """Return the slope of the last line on log-log paper, positive where it falls."""
    if len(place.lives) < 2:
        return np.zeros(np.shape(place.S_r)[1:])
    return array(slope(*place.lives[-2:], *place.S_r[-2:]))


def lines(N: float, place: Endured) -> Lines:
    """Return both lines' fully reversed strength for N cycles, MPa.

    S_e = (S_r/2)/(1 - (S_r/(2 S_u))^2) and, by Goodman, (S_r/2)/(1 - S_r/(2 S_u)).
    """
    a, b = (0.5 * S_r_at(N, place, line) for line in (0, 1))
    return Lines(
        array(endurance.S_e_gerber(a, a, place.S_u)),
        array(endurance.S_e_goodman(b, b, place.S_u)),
    )


def factors(s_a: Value, s_m: Value, N: float, place: Endured) -> tuple[Array, Array, Array]:
    """Return the factors by Gerber, by Goodman, and the static one on s_m + s_a.

    Parameters
    ----------
    s_a, s_m : float or array
        Alternating and mean stress, MPa, not negative.
    N : float
        Cycles, or infinite.
    place : Endured

    Returns
    -------
    tuple of arrays
        Dimensionless; infinite for no stress, NaN where nothing is published.
    """
    S_e = lines(N, place)
    with np.errstate(divide="ignore"):
        return (
            array(fatigue.n_f_gerber(s_a, s_m, S_e.gerber, place.S_u)),
            array(fatigue.n_f_goodman(s_a, s_m, S_e.goodman, place.S_u)),
            array(static_limits.margin(place.S_y, array(s_m) + s_a)),
        )


def factor(s_a: Value, s_m: Value, N: float, place: Endured) -> Array:
    """Return the least of `factors`: by how much both stresses may grow; NaN if not known."""
    gerber, goodman, static = factors(s_a, s_m, N, place)
    return np.minimum(np.minimum(gerber, goodman), static)


def allowed(s_m: Value, S_e: Lines, S_u: Value, S_y: Value) -> Array:
    """Return the alternating stress at which the factor is 1, MPa, not below 0: the chart's limit.

    Parameters
    ----------
    s_m : float or array
        Mean stress, MPa.
    S_e : Lines
        From `lines`.
    S_u, S_y : float or array
        Ultimate and static strength of the place, MPa.
    """
    q = np.asarray(s_m) / S_u
    both = np.minimum(S_e.gerber * (1.0 - q * q), S_e.goodman * (1.0 - q))
    return np.maximum(np.minimum(both, np.asarray(S_y) - s_m), 0.0)


def endured(
    shares: Sequence[tuple[float, Value]],
    S_ut: Value,
    *,
    bending: bool,
    static: Value,
    zimmerli: Value,
    peened: bool = False,
) -> Endured:
    """Return what a place endures, from published shares of tensile strength.

    Parameters
    ----------
    shares : sequence of (cycles, share)
        The repeated-load table, R = 0, rising cycles; may be empty.
    S_ut : float or array
        Tensile strength, MPa.
    bending : bool
        Hook bending, compared with S_ut; shear otherwise, compared with S_su = 0.67 S_ut.
    static : float or array
        Static share of S_ut for this place.
    zimmerli : bool or array of bool
        Whether Zimmerli's data hold: steel below 10 mm. They are left out where their highest
        stress S_sa + S_sm exceeds S_su, which no wire bears.
    peened : bool
        Zimmerli's peened strengths.
    """
    S_ut = array(S_ut)
    S_su = array(endurance.S_su(S_ut))
    S_sa, S_sm = endurance.zimmerli(peened)
    holds = np.asarray(zimmerli, dtype=bool) & (S_sa + S_sm <= S_su)
    safe = where(holds, S_su, 10.0 * S_sm)
    S_u = S_ut if bending else S_su
    for_ever = []
    for strength, line in (
        (endurance.S_e_gerber, fatigue.n_f_gerber),
        (endurance.S_e_goodman, fatigue.n_f_goodman),
    ):
        S_e = strength(S_sa, S_sm, safe)
        if bending:
            S_e = endurance.S_e_bending(S_e)
        for_ever.append(where(holds, 2.0 * array(line(1.0, 1.0, S_e, S_u)), np.nan))
    lives = np.array([life for life, _ in shares], dtype=float)
    rows = [static_limits.allowable(share, S_ut) for _, share in shares]
    if recording():
        table = {"symbol": "S_r", "source": "Shigley Table 10-8, load from zero (R = 0)"}
        title = "stress endured from zero for {:g} cycles"
        rows = [
            told(row, "formula", title=title.format(life), **table)
            for row, (life, _) in zip(rows, shares, strict=True)
        ]
    # rows that remember stay numbers (worked.arrays)
    S_r = cast("Array", rows) if recording() else np.array(rows, dtype=float)
    S_y = static_limits.allowable(static, S_ut)
    return Endured(lives, S_r, (for_ever[0], for_ever[1]), S_u, S_y)
