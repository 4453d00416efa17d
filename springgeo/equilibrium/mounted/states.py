"""The spring as mounted: states whose pull is not straight, each reached from a straight one."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from springgeo.curve.motion import rotation
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.mounted.mounting import Mounting
from springgeo.equilibrium.newton import NotSettledError, Shape
from springgeo.equilibrium.solved import Solved
from springgeo.equilibrium.state.forces import Reaction, reactions
from springgeo.equilibrium.state.spring_state import SpringState
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.text import quantity as q
from springgeo.text.shown import said

# how small a share of the way from straight to mounted is tried, and a share of the pressing force
# that wakes coils
_SMALLEST, _AWAKE = 2e-3, 1e-6
_FAILED = (NotSettledError, np.linalg.LinAlgError)
# how far a spring on two swivels turns to lie better between its pins, rad; by which steps that is
# looked for, and how often it is cut down to it
_MOST, _STEP, _ROUNDS = math.radians(76), math.radians(15), 4


@dataclass(frozen=True, eq=False)
class Mounted:
    """A spring between pins that are out of line, skew, or that has its own weight to bear.

    Load and length are those along the drawn spring's line of pull: B's pin moves along it. What
    the load curve says is the straight pull, by which springs are made and measured; this is what
    becomes of it in its place.

    Parameters
    ----------
    curve : LoadCurve
    mounting : Mounting
    """

    curve: LoadCurve
    mounting: Mounting
    _known: dict[float, Solved] = field(default_factory=dict, repr=False)

    @cached_property
    def balance(self) -> Balance:
        """The rod as mounted."""
        return self._balance(1.0)

    def state(self, *, load: float | None = None, length: float | None = None) -> SpringState:
        """Return the spring at a load along its line, N, or a length, mm; raises SpecError."""
        at = self.solve(load) if load is not None else self.solve_length(length or 0.0)
        return SpringState.of(self.curve.spring.geometry, self.balance, at)

    def states(
        self, *, loads: Sequence[float] = (), lengths: Sequence[float] = ()
    ) -> list[SpringState]:
        """Return the spring at many loads or lengths, in rising order; raises SpecError."""
        if lengths:
            return [self.state(length=x) for x in sorted(lengths)]
        return [self.state(load=x) for x in sorted(loads)]

    def solve(self, load: float) -> Solved:
        """Return the equilibrium at a load along the line, N, above zero; raises SpecError."""
        found = self._known.get(load)
        if found is None:
            self._require_reach(self.curve.free_length)
            start = self.curve.solve(max(load, self.curve.least))

            def onward(balance: Balance, near: Solved) -> Solved:
                return _touching(balance, near, lambda shape: balance.settled(load, shape))

            found = self._known[load] = self._reached(start, onward)
        return found

    def solve_length(self, length: float) -> Solved:
        """Return the equilibrium at a length along the line, mm; raises SpecError."""
        self._require_reach(length)
        extension = length - self.curve.free_length
        first = self.curve.solve(self.curve.least)
        start = first
        if extension > first.extension:
            start = self.curve.solve_length(length)

        def onward(balance: Balance, near: Solved) -> Solved:
            def at(shape: Shape) -> Solved:
                return balance.at_extension(extension, replace(near, shape=shape))

            return _touching(balance, near, at)

        return self._reached(start, onward)

    def pins(self, at: Solved) -> tuple[Reaction, Reaction]:
        """Return what the pins of A and B do to the spring, in the axes of the line of pull."""
        return reactions(self.balance.rod, at.shape)

    def _require_reach(self, length: float) -> None:
        """Raise SpecError where the wire does not reach from the one pin to the other."""
        aside = float(np.hypot(*self.mounting.offset[:2]))
        if not math.hypot(length, aside) <= self.curve.longest:
            raise SpecError(
                error(
                    "pins-too-far",
                    "mating.offset",
                    said(
                        "{aside} aside and {length} along the spring are further than the "
                        "{longest} at which its wire is nearly drawn straight; bring the pins "
                        "nearer",
                        aside=q.length(aside, 4),
                        **q.lengths(5, length=length, longest=self.curve.longest),
                    ),
                )
            )

    def _balance(self, share: float) -> Balance:
        rod, g = self.curve.balance.rod, self.curve.spring.geometry
        return Balance(self.mounting.share(share).on(rod, g))

    def _reached(self, near: Solved, onward: Callable[[Balance, Solved], Solved]) -> Solved:
        """Return the state as mounted, by steps from a straight one, each half one that failed."""
        done, step = 0.0, 1.0
        while done < 1.0:
            aim = min(1.0, done + step)
            try:
                balance = self.balance if aim == 1.0 else self._balance(aim)
                near = onward(balance, near)
            except _FAILED:
                step /= 2
                if step < _SMALLEST:
                    raise _not_reached(near.load, self.curve, near) from None
                continue
            done, step = aim, 2 * step
        return self._spun(near, onward)

    @cached_property
    def _swivels(self) -> bool:
        """Whether both ends are free to turn about their own axes, and no more."""
        ends = self.balance.rod.supports
        return {ends.a.turning, ends.b.turning} == {"swivelling"}

    def _spun(self, near: Solved, onward: Callable[[Balance, Solved], Solved]) -> Solved:
        """Return the state with no moment about the axes that ends swivel about.

        The spring turns the way of the moment it had to the first place where it has none, by
        ``_MOST`` at the most; where there is no such place it stands as it was hooked in, by the
        friction of its ends.
        """
        moment = self._moment(near)
        if not self._swivels or moment == 0.0:
            return near
        try:
            at, low, high = self._nearest(near, moment, onward)
            for _ in range(_ROUNDS):
                angle = (low[0] * high[1] - high[0] * low[1]) / (high[1] - low[1])
                at = onward(self._turned(angle), at)
                moment = self._moment(at)
                if moment * high[1] > 0.0:
                    low, high = (low[0], low[1] / 2), (angle, moment)
                else:
                    low, high = (angle, moment), (high[0], high[1] / 2)
            ends = self.balance.rod.supports
            free = replace(self.balance.rod, supports=replace(ends, spins=True))
            return onward(Balance(free), at)
        except _FAILED:
            return near

    def _nearest(
        self, at: Solved, moment: float, onward: Callable[[Balance, Solved], Solved]
    ) -> tuple[Solved, tuple[float, float], tuple[float, float]]:
        """Return the state, turn and moment before and after it changes its sign.

        Raises NotSettledError where it does not.
        """
        low, step = (0.0, moment), -math.copysign(_STEP, moment)
        while True:
            angle = low[0] + step
            if abs(angle) > _MOST:
                raise NotSettledError("no turn leaves no moment")
            try:
                found = onward(self._turned(angle), at)
            except _FAILED:
                step /= 2
                if abs(step) < _STEP / 10:
                    raise
                continue
            at, high = found, (angle, self._moment(found))
            if high[1] * low[1] <= 0.0:
                return at, low, high
            low = high

    def _moment(self, at: Solved) -> float:
        """Return the moment of A's pin about its own axis, N mm."""
        axis = self.balance.rod.supports.a.turned[:, 2]
        return float(axis @ self.pins(at)[0].moment)

    def _turned(self, angle: float) -> Balance:
        """Return the rod with A turned about its own axis from where it was drawn, rad."""
        ends = self.balance.rod.supports
        turn = rotation((angle * ends.a.turned[:, 2])[None])[0]
        a = replace(ends.a, turned=turn @ ends.a.turned)
        return Balance(replace(self.balance.rod, supports=replace(ends, a=a)))


def _touching(balance: Balance, near: Solved, at: Callable[[Shape], Solved]) -> Solved:
    """Return a state, with its coils pressing on each other where they would meet."""
    shape = near.shape
    if not balance.in_contact(shape):
        try:
            found = at(shape)
        except _FAILED:
            pass
        else:
            if not balance.overlaps(found.shape):
                return found
        shape = replace(shape, pressing=np.maximum(shape.pressing, _AWAKE * balance.rod.law.scale))
    return at(shape)


def _not_reached(load: float, curve: LoadCurve, near: Solved) -> SpecError:
    return SpecError(
        error(
            "mounting-not-reached",
            "mating",
            said(
                "no state of the spring at {load} and {length} was found between pins that are so "
                "far out of line; bring them nearer to one line, or pull it further",
                load=q.force(load, 4),
                length=q.length(curve.free_length + near.extension, 5),
            ),
        )
    )
