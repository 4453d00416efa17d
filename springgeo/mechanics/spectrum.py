"""A spectrum of load ranges, summed by Miner's rule on the strengths of ``life``.

Source: Miner's rule, Shigley sec. 6-15. Known: from memory.
"""

from __future__ import annotations

import numpy as np

from springgeo.mechanics import fatigue, static_limits
from springgeo.mechanics.life import Endured, fall
from springgeo.mechanics.value import Array, Mask, Value

# a factor is found to this share
_FINE = 1e-10
# a factor is looked for down to this share of the static margin
_LEAST = 1e-6


def damage(scale: Value, s_a: Array, s_m: Array, counts: Array, place: Endured) -> Array:
    """Return Miner's sum of a spectrum whose stresses are multiplied by ``scale``.

    Each range uses up the share count/life; 1 is failure. Ranges that are endured for ever add
    nothing. Infinite where a range lies above the strength of the first life known.

    Parameters
    ----------
    scale : float or array
        Above 0; of the shape of the wires.
    s_a, s_m, counts : array
        ``(m,)``: alternating and mean stress of each range, MPa, and how often it comes.
    place : Endured

    Returns
    -------
    array of the shape of the wires
    """
    S_u, scale = np.broadcast_arrays(np.asarray(place.S_u, dtype=float), scale)
    each = (-1, *[1] * S_u.ndim)
    a, q = scale * np.reshape(s_a, each), scale * np.reshape(s_m, each) / S_u
    lives = []
    for line, power in ((0, 2.0), (1, 1.0)):
        room = 1.0 - q**power
        with np.errstate(divide="ignore", invalid="ignore"):
            S_e = np.where(room > 0, a / room, np.inf)
            half = (fatigue.n_f_gerber, fatigue.n_f_goodman)[line](1.0, 1.0, S_e, S_u)
        lives.append(life_at(np.where(a > 0, 2.0 * np.asarray(half), 0.0), place, line))
    life = np.minimum(*lives)
    with np.errstate(divide="ignore"):
        return np.asarray(np.sum(np.reshape(counts, each) / life, axis=0))


def spectrum_factor(s_a: Array, s_m: Array, counts: Array, place: Endured) -> Array:
    """Return by how much a spectrum's stresses may grow until Miner's sum is 1; NaN if not known.

    Never above the static margin of the highest stress. One range alone gives `life.factor`.

    Parameters
    ----------
    s_a, s_m, counts : array
        As in `damage`.
    place : Endured

    Returns
    -------
    array of the shape of the wires
    """
    high = float(np.max(s_a + s_m))
    shape = np.shape(np.asarray(place.S_u))
    static = np.asarray(static_limits.margin(place.S_y, high), dtype=float)
    static = np.broadcast_to(static, shape)
    if not high > 0:
        return static
    published = ~np.isnan(np.asarray(place.for_ever[0], dtype=float)) | (len(place.lives) > 0)

    def endured(scale: Array) -> Mask:
        return damage(scale, s_a, s_m, counts, place) <= 1

    holds = endured(static)
    top, low = np.array(static), _LEAST * static
    known = published & (holds | endured(low))  # else more cycles than anything published tells of
    while float(np.max(np.where(known & ~holds, top / low, 1.0), initial=1.0)) > 1 + _FINE:
        middle = np.sqrt(low * top)
        enough = endured(middle)
        low, top = np.where(enough, middle, low), np.where(enough, top, middle)
    return np.where(known, np.where(holds, static, low), np.nan)


def life_at(S_r: Array, place: Endured, line: int) -> Array:
    """Return the cycles for which a stress from zero is endured: the inverse of `life.S_r_at`.

    0 above the strength of the first life; infinite up to the strength for ever; the last life
    known where nothing is published beyond it.

    Parameters
    ----------
    S_r : (m, ...) array
        Stresses from zero, MPa; behind the first of the shape of the wires.
    place : Endured
    line : int
        0 for Gerber, 1 for Goodman.
    """
    for_ever = np.asarray(place.for_ever[line], dtype=float)
    lives = place.lives
    if len(lives) == 0:
        return np.where(for_ever >= S_r, np.inf, 0.0)
    m = fall(place)
    S = np.where(m > 0, place.S_r, np.fmin(place.S_r, for_ever))
    found = np.full(np.shape(S_r), lives[-1])
    for i in range(len(lives) - 2, -1, -1):
        with np.errstate(divide="ignore", invalid="ignore"):
            share = np.log(S[i] / S_r) / np.log(S[i] / S[i + 1])
        between = lives[i] * (lives[i + 1] / lives[i]) ** np.clip(share, 0.0, 1.0)
        # a table may stand still between two lives: the longer one is endured as well
        found = np.where(S_r > S[i + 1], between, found)
    with np.errstate(over="ignore", divide="ignore", invalid="ignore"):
        beyond = lives[-1] * (S[-1] / S_r) ** (1 / np.where(m > 0, m, np.inf))
    found = np.where((m > 0) & ~np.isnan(for_ever) & (S_r < S[-1]), beyond, found)
    # np.fmin: where nothing is known for ever, no stress is endured so long
    endless = np.where(np.isnan(for_ever), -np.inf, np.fmin(for_ever, S[-1]))
    found = np.where(endless >= S_r, np.inf, found)
    return np.where(S_r > S[0], 0.0, found)
