"""The load at which a stress reaches a limit: few stresses asked, those of other limits used."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

# a load is found to this share; a last change up to the second is not followed by another: what
# is left is the square of it, or a twentieth where the place of the peak leaps
_FINE, _NEAR, _STEPS = 1e-7, 2e-5, 50
# the loads between which it is looked for stand so many times apart
_APART = 1.6
# so many stresses about the limit say how it rises
_ABOUT = 4


def load_reaching(
    stress: Callable[[float], float | None],
    limit: float,
    wound: float,
    asked: Iterable[float] = (),
) -> float:
    """Return the load, N, at which a stress that rises with it reaches a limit, MPa.

    Parameters
    ----------
    stress : callable
        Stress, MPa, of a load, N; nearly proportional to it above ``wound``.
    limit : float
        MPa, above 0.
    wound : float
        The initial tension, N. A body that was wound at more than the limit cannot be pulled at
        all: the initial tension is returned then.
    asked : iterable of float
        Loads, N, whose stress is known, or costs little.
    """
    if (stress(0.0) or 0.0) >= limit:
        return wound
    known = {load: stress(load) or 0.0 for load in asked} or _first(stress, max(wound, 1.0))
    while (low := min(known)) and known[low] > limit:
        known[low / _APART] = stress(low / _APART) or 0.0
    while known[high := max(known)] < limit:
        known[high * _APART] = stress(high * _APART) or limit
    load = _guess(known, limit)
    for _ in range(_STEPS):
        known[load] = stress(load) or limit
        new = _guess(known, limit)
        near = _NEAR if len(known) > _ABOUT else _FINE
        if abs(new - load) <= near * new:
            return new
        load = new
    return load


def _first(stress: Callable[[float], float | None], load: float) -> dict[float, float]:
    return {load: stress(load) or 0.0}


def _guess(known: dict[float, float], limit: float) -> float:
    """Return the load at which the stress of a newton, a polynomial of the load, is as wanted.

    Through the stresses about the limit, half of them below; by the chord where that leads out
    of the two next to it.
    """
    below = sorted(load for load, s in known.items() if s < limit)
    above = sorted(load for load, s in known.items() if s >= limit)
    low, high = below[-1] if below else 0.0, above[0]
    chord = high
    if below:
        rise = (known[high] - known[low]) / (high - low)
        chord = low + (limit - known[low]) / rise
    half = _ABOUT // 2
    few = max(half, _ABOUT - len(above)), max(half, _ABOUT - len(below))
    at = [*below[-few[0] :], *above[: few[1]]]
    factors = _divided(at, [known[x] / x for x in at])
    load = chord
    for _ in range(_STEPS):
        new = limit / _polynomial(load, at, factors)
        if not low <= new <= high:
            return chord
        if abs(new - load) <= 1e-15 * new:
            return new
        load = new
    return load


def _divided(at: Sequence[float], values: Sequence[float]) -> list[float]:
    """Return Newton's divided differences."""
    found, row = [values[0]], list(values)
    for k in range(1, len(at)):
        row = [(b - a) / (at[i + k] - at[i]) for i, (a, b) in enumerate(pairwise(row))]
        found.append(row[0])
    return found


def _polynomial(x: float, at: Sequence[float], factors: Sequence[float]) -> float:
    value = 0.0
    for a, factor in zip(reversed(at), reversed(factors), strict=True):
        value = value * (x - a) + factor
    return value
