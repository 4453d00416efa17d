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
from springgeo.equilibrium.newton import NotSettledError
from springgeo.equilibrium.posed import Shape
from springgeo.equilibrium.refusals import slack_as_mounted
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
# where its moment is least is looked for by parabolas through places so far aside, rad, until it
# stays where it is, rad, or so often
_ASIDE, _STILL, _PARABOLAS = 0.02, 1e-7, 8
# a length is that of a load within this share of the wire's diameter; what is another place; tries
_SAME, _OTHER, _TRIES = 1e-9, 1e-6, 9


@dataclass(frozen=True, eq=False)
class _Turn:
    """A spring turned by an angle, rad, about its pin's axis; the moment there, N mm."""

    angle: float
    moment: float
    at: Solved


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
    _at_length: dict[float, Solved] = field(default_factory=dict, repr=False)

    @cached_property
    def balance(self) -> Balance:
        """The rod as mounted."""
        return self._balance(1.0)

    def states(
        self, *, loads: Sequence[float] = (), lengths: Sequence[float] = ()
    ) -> list[SpringState]:
        """Return the spring at many loads or lengths, in rising order; raises SpecError."""
        found = [self.solve_length(x) for x in sorted(lengths)]
        found = found or [self.solve(x) for x in sorted(loads)]
        return SpringState.many(self.curve.spring.geometry, self.balance, found)

    def solve(self, load: float) -> Solved:
        """Return the equilibrium at a load along the line, N, above zero; raises SpecError."""
        found = self._known.get(load)
        if found is None:
            self._require_reach(self.curve.free_length)
            start = self.curve.solve(max(load, self.curve.least))

            def onward(balance: Balance, near: Solved) -> Solved:
                return _touching(balance, near, lambda shape: balance.settled(load, shape))

            found = self._known[load] = self._reached(start, onward)
            # who asks for the length that this load has means this state
            self._at_length.setdefault(self.curve.free_length + found.extension, found)
        return found

    def solve_length(self, length: float) -> Solved:
        """Return the equilibrium at a length along the line, mm; raises SpecError.

        From then on it is that at its load. Below the free length it must be taut.
        """
        found = self._at_length.get(length)
        if found is None:
            free = self.curve.free_length
            found = self._held_at(length) if length >= free * (1 - 1e-9) else self._taut_at(length)
            self._at_length[length] = self._known[found.load] = found
        return found

    def _taut_at(self, length: float) -> Solved:
        """Return the state at a length below the free one, mm; raises SpecError where slack."""
        try:
            found = self._held_at(length)
        except SpecError:
            if length >= self._taut_from:
                raise
        else:
            if found.load > 0.0:
                return found
        raise slack_as_mounted(length, self._taut_from, self.curve.free_length)

    @cached_property
    def _taut_from(self) -> float:
        """The length, mm, from which on the spring is taut; the free one where none is found."""
        free = self.curve.free_length
        try:
            return free + min(self.solve(self.curve.least).extension, 0.0)
        except SpecError:
            return free

    def _held_at(self, length: float) -> Solved:
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

        found = self._reached(start, onward)
        return self._of_load(found, extension) if self._swivels else found

    def _of_load(self, near: Solved, extension: float) -> Solved:
        """Return the state at an extension, mm, that is the one of its load: by the secant.

        Held at a length a spring can lie in another place than under a load. ``near`` where no
        load leads there.
        """
        d, low, high = self.balance.rod.wire_diameter, 0.0, math.inf
        load, slope, before = near.load, near.compliance, None
        for _ in range(_TRIES):
            try:
                at = self.solve(load)
            except SpecError:
                return near
            off = extension - at.extension
            if before is None and abs(off) <= _OTHER * d:
                return near
            if abs(off) <= _SAME * d:
                return at
            low, high = (load, high) if off > 0.0 else (low, load)
            if before is not None and (at.extension - before.extension) * (load - before.load) > 0:
                slope = (at.extension - before.extension) / (load - before.load)
            before, load = at, load + off / slope
            if not low < load < high:
                load = (low + high) / 2 if math.isfinite(high) else 2 * low
        return near

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
        """Return the state with no moment about the axes that ends swivel about, or with the least.

        The spring turns the way of the moment it had to the first place where it has none, by
        ``_MOST`` at the most. Where there is no such place it stands where least is left, by the
        friction of its ends: when a rising load loses the place without any, that is where it was.
        """
        moment = self._moment(near)
        if not self._swivels or moment == 0.0:
            return near
        try:
            turns = self._turns(near, moment, onward)
            if turns[-1].moment * moment > 0.0:
                return self._least(turns, onward)
            *_, low, high = turns
            at = high.at
            for _ in range(_ROUNDS):
                angle = (low.angle * high.moment - high.angle * low.moment) / (
                    high.moment - low.moment
                )
                at = onward(self._turned(angle), at)
                found = _Turn(angle, self._moment(at), at)
                if found.moment * high.moment > 0.0:
                    low, high = replace(low, moment=low.moment / 2), found
                else:
                    low, high = found, replace(high, moment=high.moment / 2)
            ends = self.balance.rod.supports
            free = replace(self.balance.rod, supports=replace(ends, spins=True))
            return onward(Balance(free), at)
        except _FAILED:
            return near

    def _turns(
        self, at: Solved, moment: float, onward: Callable[[Balance, Solved], Solved]
    ) -> list[_Turn]:
        """Return turns the way of a moment, up to where that changes its sign or to the last."""
        found, step = [_Turn(0.0, moment, at)], -math.copysign(_STEP, moment)
        while found[-1].moment * moment > 0.0:
            angle = found[-1].angle + step
            if abs(angle) > _MOST:
                break
            try:
                at = onward(self._turned(angle), found[-1].at)
            except _FAILED:
                step /= 2
                if abs(step) < _STEP / 10:
                    raise
                continue
            found.append(_Turn(angle, self._moment(at), at))
        return found

    def _least(self, turns: list[_Turn], onward: Callable[[Balance, Solved], Solved]) -> Solved:
        """Return the state where the moment is least: by the parabola through three turns."""
        k = min(range(len(turns)), key=lambda i: abs(turns[i].moment))
        if k in (0, len(turns) - 1):
            return turns[k].at
        low, middle, high = turns[k - 1 : k + 2]
        inside = sorted((low.angle, high.angle))
        for _ in range(_PARABOLAS):
            angle = _vertex(low, middle, high)
            if not inside[0] < angle < inside[1]:
                return turns[k].at
            moved, at = abs(angle - middle.angle), middle.at
            low, middle, high = (
                self._turn(angle + aside, at, onward) for aside in (-_ASIDE, 0.0, _ASIDE)
            )
            if moved < _STILL:
                break
        return middle.at

    def _turn(
        self, angle: float, near: Solved, onward: Callable[[Balance, Solved], Solved]
    ) -> _Turn:
        at = onward(self._turned(angle), near)
        return _Turn(angle, self._moment(at), at)

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


def _vertex(a: _Turn, b: _Turn, c: _Turn) -> float:
    """Return the angle, rad, at which the parabola of the moments of three turns is level."""
    left, right = b.angle - a.angle, b.angle - c.angle
    p, q = left * (b.moment - c.moment), right * (b.moment - a.moment)
    return b.angle - (left * p - right * q) / (2 * (p - q))


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
