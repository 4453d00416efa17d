"""At which load the last pair of coils parts."""

from __future__ import annotations

from collections.abc import Callable

from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.newton import NotSettledError
from springgeo.equilibrium.solved import Solved

# all coils are apart, as a rule, from so many times the pull that presses them
APART = 1.25
# beyond this gap, in widths of the contact's law, a pair has parted
PARTED = 10.0
# share of the pressing force to which the load is found, and up to which multiple it is sought
_FINE, SOUGHT = 2e-3, 8.0
_ROUNDS = 40


def parted(curve: LoadCurve, at: Solved) -> float:
    """Return the share of the pairs of coils that have parted, 0 to 1."""
    rod = curve.balance.rod
    gap = rod.pairs.gaps(at.shape.R, at.shape.p)
    return float((gap > PARTED * rod.width).mean())


def last_parts_at(curve: LoadCurve) -> float | None:
    """Return the load, N, at which the last pair parts; None where that is beyond reach.

    Looked for where all coils are apart, down to the load at which the first two would meet: the
    same load, without the contact's own search.
    """
    balance, rod = curve.balance, curve.balance.rod
    near = min(curve.begun, key=lambda x: abs(x.load - APART * curve.pressing), default=None)

    def gap(load: float) -> float:
        nonlocal near
        near = balance.parted(load, None if near is None else balance.onward(near, load))
        shape = near.shape
        return float(rod.pairs.gaps(shape.R, shape.p).min()) - PARTED * rod.width

    try:
        low, high = (0.0, -1.0), (APART * curve.pressing, gap(APART * curve.pressing))
        while high[1] < 0:
            if high[0] > SOUGHT * curve.pressing:
                return None
            low, high = high, (APART * high[0], gap(APART * high[0]))
        if low[0] == 0.0:
            low = 0.9 * curve.pressing, gap(0.9 * curve.pressing)
            if low[1] >= 0:
                low = 0.5 * curve.pressing, gap(0.5 * curve.pressing)
        return low[0] if low[1] >= 0 else _between(gap, low, high, _FINE * curve.pressing)
    except NotSettledError:
        return None


def _between(
    gap: Callable[[float], float], low: tuple[float, float], high: tuple[float, float], fine: float
) -> float:
    """Return where a gap opens, N: the straight line's way, the idle side halved (Illinois)."""
    (a, f_a), (b, f_b) = low, high
    for _ in range(_ROUNDS):
        slope = (f_b - f_a) / (b - a)
        aim = b - f_b / slope
        found = gap(aim)
        # what is left to the straight line is less than what is asked for
        if abs(found) <= fine / 2 * slope:
            return aim - found / slope
        if found < 0:
            a, f_a, f_b = aim, found, f_b / 2
        else:
            b, f_b, f_a = aim, found, f_a / 2
    return b
