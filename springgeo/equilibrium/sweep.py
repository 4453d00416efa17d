"""Many states of one spring: some are solved, the rest interpolated between them.

Strain, and with it everything else, follows a cubic of the load between two solved states, with
the exact rates at both (Hermite). A stretch of the curve is taken only where the state in its
middle, solved as well, is met within ``EXACT``; halving it divides the error by sixteen, so that
between the three states the shape is good to a sixteenth of that.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import rotation, rotation_vector
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.cell import Strain, ends
from springgeo.equilibrium.natural import placed
from springgeo.equilibrium.posed import Rates, Shape
from springgeo.equilibrium.solved import Solved

# greatest distance of a node from where it belongs in the middle of a stretch, wire diameters
EXACT = 5e-3
# a load that is wanted, so near the middle of a stretch by its length, is solved in its place
_OFF = 0.15
# so few states are solved rather than interpolated
FEW = 2


@dataclass(frozen=True, eq=False)
class Stretch:
    """A piece of the curve between two solved states."""

    balance: Balance
    a: Solved
    b: Solved

    def _blend(self, load: float) -> tuple[float, float, float, float]:
        """Return the weights of both values and both rates."""
        span = self.b.load - self.a.load
        u = (load - self.a.load) / span
        rise = u * u * (3 - 2 * u)
        return 1 - rise, rise, span * u * (1 - u) ** 2, -span * u * u * (1 - u)

    def extension(self, load: float) -> float:
        """Return the extension at a load between, mm."""
        wa, wb, ra, rb = self._blend(load)
        return (
            wa * self.a.extension
            + wb * self.b.extension
            + ra * self.a.compliance
            + rb * self.b.compliance
        )

    def load(self, extension: float) -> float:
        """Return the load at an extension between, N: by bisection and the secant in turn."""
        low, high = self.a.load, self.b.load
        f_low, f_high = self.a.extension - extension, self.b.extension - extension
        for i in range(200):
            at = (low + high) / 2 if i % 3 == 2 else low - f_low * (high - low) / (f_high - f_low)
            off = self.extension(at) - extension
            if abs(off) <= 1e-13 * self.b.extension or high - low <= 1e-15 * high:
                return at
            low, f_low, high, f_high = (at, off, high, f_high) if off < 0 else (low, f_low, at, off)
        return at

    def at(self, load: float) -> Solved:
        """Return the state at a load between."""
        a, b = self.a, self.b
        wa, wb, ra, rb = self._blend(load)

        def mixed(of: Callable[[Shape], Array], rate: Callable[[Rates], Array]) -> Array:
            return wa * of(a.shape) + wb * of(b.shape) + ra * rate(a.rates) + rb * rate(b.rates)

        strain = Strain(
            mixed(lambda s: s.strain.middle, lambda r: r.strain.middle),
            mixed(lambda s: s.strain.slope, lambda r: r.strain.slope),
        )
        # the first node's turning from the one state to the other
        whole = rotation_vector((a.shape.R[0].T @ b.shape.R[0])[None])[0]
        turn = wb * whole + ra * a.rates.twist[0, 3:] + rb * b.rates.twist[0, 3:]
        R0 = a.shape.R[0] @ rotation(turn[None])[0]
        rod = self.balance.rod
        near, far = ends(rod.drawn.length, strain)
        R, p = placed(R0, -R0 @ rod.supports.a.offset, near.then(far))
        share = (load - a.load) / (b.load - a.load)
        pressing = (1 - share) * a.shape.pressing + share * b.shape.pressing
        shape = Shape(load, R, p, strain, (1 - share) * a.shape.wrench, pressing)
        # what an end that is held bears aside does not follow from the pull
        last = mixed(lambda s: s.wrench[-1], lambda r: r.wrench[-1])
        shape = self.balance.with_statics(shape, last)
        rates = a.rates if share < 0.5 else b.rates
        slope = (1 - share) * a.compliance + share * b.compliance
        return Solved(shape, rates, self.extension(load), slope)

    def met(self, between: Solved, exact: float = EXACT) -> bool:
        """Return whether a solved state between is met: what is missed in the middle counts.

        Within ``exact`` wire diameters.
        """
        u = (between.load - self.a.load) / (self.b.load - self.a.load)
        # what a cubic misses rises and falls as u² (1 − u)²
        bound = exact * self.balance.rod.wire_diameter * 16 * (u * (1 - u)) ** 2
        if abs(self.extension(between.load) - between.extension) > bound:
            return False
        off = self.at(between.load).shape.p - between.shape.p
        return float(np.abs(off).max()) <= bound


@dataclass(frozen=True, eq=False)
class Sweep:
    """Many states of a rod.

    Parameters
    ----------
    balance : Balance
    solve : callable
        The state at a load or an extension that is wanted.
    at_load : callable
        The state at a load, N.
    key : callable
        What ``wanted`` counts in: a state's load or extension.
    """

    balance: Balance
    solve: Callable[[float], Solved]
    at_load: Callable[[float], Solved]
    key: Callable[[Solved], float]

    def states(self, wanted: Sequence[float]) -> list[Solved]:
        """Return the states at ``wanted`` loads or extensions, in rising order."""
        if len(wanted) <= FEW:
            return [self.solve(x) for x in wanted]
        first, last = self.solve(wanted[0]), self.solve(wanted[-1])
        return [first, *self._between(wanted[1:-1], first, last), last]

    def _between(self, wanted: Sequence[float], a: Solved, b: Solved) -> list[Solved]:
        if len(wanted) <= FEW:
            return [self.solve(x) for x in wanted]
        middle = self._middle(wanted, a, b)
        at = self.key(middle)
        parts = [x for x in wanted if x < at], [x for x in wanted if x >= at]
        if Stretch(self.balance, a, b).met(middle):
            halves = Stretch(self.balance, a, middle), Stretch(self.balance, middle, b)
            by_load = at == middle.load
            return [
                half.at(x if by_load else half.load(x))
                for half, part in zip(halves, parts, strict=True)
                for x in part
            ]
        return [*self._between(parts[0], a, middle), *self._between(parts[1], middle, b)]

    def _middle(self, wanted: Sequence[float], a: Solved, b: Solved) -> Solved:
        """Return a state about the middle of a stretch: one of the loads wanted if near it."""
        half, span = (a.load + b.load) / 2, b.load - a.load
        if self.key(a) == a.load:
            near = min(wanted, key=lambda x: abs(x - half))
            if abs(near - half) <= _OFF * span:
                return self.solve(near)
        return self.at_load(half)
