"""A spectrum of load ranges, summed by Miner's rule on the strengths of ``life``.

Source: Miner's rule, Shigley sec. 6-15. Known: from memory.
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics import fatigue, static_limits
from springgeo.mechanics.life import Endured, fall
from springgeo.mechanics.value import Array

# a factor is found to this share
_FINE = 1e-10


def damage(scale: float, s_a: Array, s_m: Array, counts: Array, place: Endured) -> float:
    """Return Miner's sum of a spectrum whose stresses are multiplied by ``scale``.

    Each range uses up the share count/life; 1 is failure. Ranges that are endured for ever add
    nothing. Infinite where a range lies above the strength of the first life known.

    Parameters
    ----------
    scale : float
        Above 0.
    s_a, s_m, counts : array
        ``(m,)``: alternating and mean stress of each range, MPa, and how often it comes.
    place : Endured
        Of one wire.
    """
    a, q = scale * s_a, scale * s_m / float(place.S_u)
    lives = []
    for line, power in ((0, 2.0), (1, 1.0)):
        room = 1.0 - q**power
        with np.errstate(divide="ignore", invalid="ignore"):
            S_e = np.where(room > 0, a / room, np.inf)
            half = (fatigue.n_f_gerber, fatigue.n_f_goodman)[line](1.0, 1.0, S_e, place.S_u)
        lives.append(life_at(np.where(a > 0, 2.0 * np.asarray(half), 0.0), place, line))
    life = np.minimum(*lives)
    with np.errstate(divide="ignore"):
        return float(np.sum(counts / life))


def spectrum_factor(s_a: Array, s_m: Array, counts: Array, place: Endured) -> float:
    """Return by how much a spectrum's stresses may grow until Miner's sum is 1; NaN if not known.

    Never above the static margin of the highest stress. One range alone gives `life.factor`.

    Parameters
    ----------
    s_a, s_m, counts : array
        As in `damage`.
    place : Endured
        Of one wire.
    """
    high = float(np.max(s_a + s_m))
    top = float(static_limits.margin(place.S_y, high))
    if not high > 0:
        return top
    if len(place.lives) == 0 and np.isnan(float(place.for_ever[0])):
        return float("nan")
    if damage(top, s_a, s_m, counts, place) <= 1:
        return top
    low = 1e-6 * top
    if damage(low, s_a, s_m, counts, place) > 1:
        return float("nan")  # more cycles than anything published tells of
    while top / low > 1 + _FINE:
        middle = float(np.sqrt(low * top))
        if damage(middle, s_a, s_m, counts, place) <= 1:
            low = middle
        else:
            top = middle
    return low


def life_at(S_r: Array, place: Endured, line: int) -> Array:
    """Return the cycles for which a stress from zero is endured: the inverse of `life.S_r_at`.

    0 above the strength of the first life; infinite up to the strength for ever; the last life
    known where nothing is published beyond it. For places of one wire only.

    Parameters
    ----------
    S_r : array
        Stresses from zero, MPa.
    place : Endured
    line : int
        0 for Gerber, 1 for Goodman.
    """
    for_ever = float(place.for_ever[line])
    lives, S = place.lives, place.S_r
    if len(lives) == 0:
        return np.where(for_ever >= S_r, np.inf, 0.0)
    m = float(fall(place))
    if not m > 0:
        S = np.fmin(S, for_ever)
    rising = np.log(np.maximum(S_r, 1e-300))
    # a table may stand still between two lives: the longer one is endured as well
    order = np.log(S[::-1]) + 1e-12 * np.arange(len(S))
    found = np.exp(np.interp(rising, order, np.log(lives[::-1])))
    if m > 0 and not np.isnan(for_ever):
        with np.errstate(over="ignore", divide="ignore"):
            found = np.where(S_r < S[-1], lives[-1] * (S[-1] / S_r) ** (1 / m), found)
        found = np.where(min(for_ever, float(S[-1])) >= S_r, np.inf, found)
    elif not np.isnan(for_ever):
        found = np.where(S[-1] >= S_r, np.inf, found)
    return np.where(S_r > S[0], 0.0, found)
