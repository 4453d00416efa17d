"""At which load the last pair of coils parts."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

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
# foreseen by a state's rates: from one this share of the pressing force away, what is left is the
# square of it; in so many rounds, or not at all; none lies below this share
_NEAR, _FEW, _LOWEST = 0.02, 5, 0.9


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
    near = min(curve.begun, key=lambda x: abs(x.load - APART * curve.pressing), default=None)
    gap = _Gap(curve, near)
    try:
        with suppress(NotSettledError):
            if (found := gap.opens()) is not None:
                return found
        return _bracketed(gap, curve.pressing)
    except NotSettledError:
        return None


@dataclass
class _Gap:
    """The least gap between coils, mm, less that of a pair that has parted."""

    curve: LoadCurve
    near: Solved | None

    def __call__(self, load: float) -> float:
        """Return it at a load, N, which from then on is near; raises NotSettledError."""
        near, balance = self.near, self.curve.balance
        self.near = balance.parted(load, None if near is None else balance.onward(near, load))
        return self._of(self.near)

    def _of(self, state: Solved) -> float:
        rod = self.curve.balance.rod
        return float(rod.pairs.gaps(state.shape.R, state.shape.p).min()) - PARTED * rod.width

    def opens(self) -> float | None:
        """Return the load, N, at which it is zero by the rates of a state there, or None."""
        press = self.curve.pressing
        load = self._foreseen() if self.near is not None else APART * press
        for _ in range(_FEW):
            if load is None or not _LOWEST * press < load < SOUGHT * press:
                return None
            self(load)
            before, load = load, self._foreseen()
            if load is not None and abs(load - before) <= _NEAR * press:
                return load
        return None

    def _foreseen(self) -> float | None:
        """Return where it is zero when the near state goes on by its rates, N: by the secant."""
        near, onward = self.near, self.curve.balance.onward
        assert near is not None
        a, f_a = near.load, self._of(near)
        b = a * (1 - _NEAR)
        for _ in range(_ROUNDS):
            f_b = self._of(onward(near, b))
            if f_b == f_a:
                return None
            a, f_a, b = b, f_b, b - f_b * (b - a) / (f_b - f_a)
            if abs(b - a) <= _FINE / 20 * self.curve.pressing:
                return b
        return None


def _bracketed(gap: _Gap, press: float) -> float | None:
    """Return where a gap opens, N, from loads on both sides; None beyond ``SOUGHT``."""
    low, high = (0.0, -1.0), (APART * press, gap(APART * press))
    while high[1] < 0:
        if high[0] > SOUGHT * press:
            return None
        low, high = high, (APART * high[0], gap(APART * high[0]))
    if low[0] == 0.0:
        low = 0.9 * press, gap(0.9 * press)
        if low[1] >= 0:
            low = 0.5 * press, gap(0.5 * press)
    return low[0] if low[1] >= 0 else _between(gap, low, high, _FINE * press)


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
