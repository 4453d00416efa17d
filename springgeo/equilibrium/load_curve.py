"""Load and length of a spring: one curve, with the knee of the initial tension and what follows.

Every point asked for is an equilibrium of its own; nothing is read off a straight line. Between
the points of a sweep strains are interpolated where that is good to ``EXACT``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from operator import attrgetter

import numpy as np

from springgeo.curve.frame import Array
from springgeo.ends.protocol import Turning
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.between import Between
from springgeo.equilibrium.branch import same_branch
from springgeo.equilibrium.hung import Wound, rod
from springgeo.equilibrium.newton import NotSettledError
from springgeo.equilibrium.prestress import wound
from springgeo.equilibrium.refusals import (
    not_found,
    not_wound,
    require_finite,
    slack,
    too_long,
    too_much,
)
from springgeo.equilibrium.solved import Solved
from springgeo.equilibrium.state.spring_state import SHORT, SpringState
from springgeo.equilibrium.sweep import FEW, Stretch, Sweep
from springgeo.errors import SpecError

# the share of the wire's length between the contacts to which a spring may be drawn
STRAIGHTEST = 0.9
# loads below this share of the pull that opens a coil by a wire diameter are taken as a straight
# line from rest
_LEAST = 1e-5
# from this share of the pull beyond which nothing is looked for a helix is drawn nearly straight
_STRAIGHT = 0.4
# how often ten times as much is tried
_LEASTS = 4
# so many times the load of the state it starts from is a leap
_LEAP = 2.0
# so many states are drawn at once: more do not go faster; each is drawn as long as it is but for
# this share
_AT_ONCE, _DRAWN = 32, 6e-7
# the share of a load that is a small step
_SMALL = 1 / 50
_load, _extension = attrgetter("load"), attrgetter("extension")


@dataclass(frozen=True, eq=False)
class LoadCurve:
    """Load over length inside hooks: N and mm.

    The length is the free length and by how much the points of pull move apart. From no load to
    the initial tension hooks give alone; round it the coils part, the outermost first, and the
    curve bends over to the spring's rate; beyond, it follows the wire's large deflection. The
    curve rises everywhere, so that load and length answer each other.

    Parameters
    ----------
    spring : Wound
        ``tension`` is the initial tension as the trade names it: where the straight part of the
        measured curve, extended back, meets the free length (``equilibrium.prestress``).
    turning : (Turning, Turning)
        What turning either end is left.
    """

    spring: Wound
    turning: tuple[Turning, Turning] = ("free", "free")
    _known: dict[float, Solved] = field(default_factory=dict, repr=False)
    # loads for which no state was found
    _refused: dict[float, SpecError] = field(default_factory=dict, repr=False)
    # states that leaps are held against
    _footing: dict[float, Solved] = field(default_factory=dict, repr=False)
    # states of nearly this spring, good to start from
    _start: list[Solved] = field(default_factory=list, repr=False)

    @property
    def free_length(self) -> float:
        """Inside hooks, without load, mm."""
        return self.spring.geometry.length

    @property
    def initial_tension(self) -> float:
        """As the trade names it, N."""
        return self.spring.tension or 0.0

    @cached_property
    def balance(self) -> Balance:
        """The rod, wound so that it has the initial tension."""
        drawn = rod(self.spring, self.turning)
        tension = self.initial_tension
        if len(drawn.pairs) and tension >= drawn.pressing:
            try:
                drawn, line = wound(drawn, tension)
            except (NotSettledError, np.linalg.LinAlgError):
                raise not_wound(tension) from None
            self._start.extend(line.points)
        return Balance(drawn)

    @property
    def pressing(self) -> float:
        """Pull against which the coils press as wound, N: a little above the initial tension."""
        return self.balance.rod.pressing if self.initial_tension else 0.0

    @cached_property
    def longest(self) -> float:
        """The greatest length that is answered, mm: the wire nearly straight."""
        wire = float(self.balance.rod.drawn.length.sum())
        grips = sum(
            float(np.linalg.norm(s.offset))
            for s in (self.balance.rod.supports.a, self.balance.rod.supports.b)
        )
        return self.free_length + STRAIGHTEST * wire + grips - self._chord

    @cached_property
    def _chord(self) -> float:
        at, shape = self.balance.rod.supports, self.balance.rest
        apart = at.b.point(shape.R[-1], shape.p[-1]) - at.a.point(shape.R[0], shape.p[0])
        return float(np.linalg.norm(apart))

    @property
    def known(self) -> list[Solved]:
        """What was solved so far, by rising load."""
        return sorted(self._known.values(), key=_load)

    def solve(self, load: float) -> Solved:
        """Return the equilibrium at a load above zero, N; raises SpecError."""
        found = self._known.get(load)
        if found is None:
            require_finite("load", load)
            if load in self._refused:
                raise SpecError(self._refused[load].findings)
            try:
                found = self._followed(load)
                self._check(found)
            except SpecError as exc:
                self._refused[load] = exc
                raise
            except (NotSettledError, np.linalg.LinAlgError):
                straight = load > self.balance.most * _STRAIGHT
                self._refused[load] = too_much(load) if straight else not_found(load)
                raise self._refused[load] from None
            self._known[load] = found
        return found

    def _followed(self, load: float) -> Solved:
        """Return the equilibrium at a load that the curve leads to, in smaller steps if need be."""
        self.balance  # noqa: B018  (fills in the first states)
        start = max((s for s in self._start if _LEAP * s.load < load), key=_load, default=None)
        if start is not None and any(start.load <= x < load for x in self._known):
            start = None
        while True:
            found = self.balance.at_load(load, *self._near(load))
            if start is not None and start.load not in self._footing:
                # a leap from a state of nearly this spring: it may be held against that itself
                if self._held(start, found):
                    return found
                self._footing[start.load] = self.balance.at_load(start.load, start)
            before = self._astray(found)
            # a small step does not lead to another curve
            if before is None or load - before.load < _SMALL * load:
                return found
            try:
                self.solve((before.load + load) / 2)
            except SpecError:
                raise NotSettledError(f"no way along the curve to {load:g} N") from None

    def _held(self, start: Solved, found: Solved) -> bool:
        """Return whether the curve leads to a state from one of nearly this spring, apart."""
        shapes = start.shape, found.shape
        apart = not any(self.balance.in_contact(x) for x in shapes)
        return apart and same_branch(self.balance.rod, start, found)

    def _astray(self, found: Solved) -> Solved | None:
        """Return the nearest state below whose curve does not lead to the one found, or None."""
        known = [*self._known.values(), *self._footing.values()]
        apart = (s for s in known if not self.balance.in_contact(s.shape))
        below = [s for s in apart if s.load < found.load]
        if not below:
            return None
        before = max(below, key=_load)
        return None if same_branch(self.balance.rod, before, found) else before

    @cached_property
    def between(self) -> Between:
        """What lies between solved states: for questions along the curve."""
        return Between(self.balance, self._known, self.solve)

    def solve_length(self, length: float) -> Solved:
        """Return the equilibrium at a length above the free length, mm; raises SpecError."""
        require_finite("length", length)
        if length > self.longest:
            raise too_long(length, self.longest)
        extension = length - self.free_length
        near = self._toward(extension)
        if near.extension != extension:
            near = self._refined(near, extension)
            self._known[near.load] = near
        return near

    def is_slight(self, load: float) -> bool:
        """Return whether a load, N, is below the least; that is found only where it matters."""
        return load < self._first_least * 10**_LEASTS and load < self.least

    def length(self, load: float) -> float:
        """Return the length inside hooks at a load, mm; the free length without one."""
        if load == 0.0:
            return self.free_length
        if load > 0.0 and self.is_slight(load):
            first = self.solve(self.least)
            return self.free_length + first.extension * load / self.least
        return self.free_length + self.solve(load).extension

    def load(self, length: float) -> float:
        """Return the load at a length inside hooks, N; zero at the free length."""
        require_finite("length", length)
        extension = length - self.free_length
        if extension < -1e-9 * self.free_length:
            raise slack(length, self.free_length)
        if extension <= 1e-12 * self.free_length:
            return 0.0
        first = self.solve(self.least)
        if extension < first.extension:
            return self.least * extension / first.extension
        return self.solve_length(length).load

    def rate(self, load: float) -> float:
        """Return the slope of the curve at a load, N/mm."""
        return 1.0 / self.solve(self.least if self.is_slight(load) else load).compliance

    def state(
        self, *, load: float | None = None, length: float | None = None, for_view: bool = False
    ) -> SpringState:
        """Return the spring at a load, N, or at a length, mm; at rest, as drawn.

        ``for_view``: drawn as finely as many states are, in half the time.
        """
        if length is not None:
            load = self.load(length)
        assert load is not None
        if self.is_slight(load):
            return SpringState.at_rest(self.spring.geometry, self.balance)
        at = self.solve(load)
        short = _DRAWN if for_view else SHORT
        return SpringState.many(self.spring.geometry, self.balance, [at], short)[0]

    def states(
        self, *, loads: Sequence[float] = (), lengths: Sequence[float] = ()
    ) -> list[SpringState]:
        """Return the spring at many loads, N, or many lengths, mm, in rising order.

        Faster than one by one: between solved states strains are interpolated where that is good
        to a few thousandths of a wire diameter (``equilibrium.sweep``).
        """
        geometry, found = self.spring.geometry, self.solve_many(loads=loads, lengths=lengths)
        taut = [at for at in found if at is not None]
        rest = [SpringState.at_rest(geometry, self.balance)] * (len(found) - len(taut))
        parts = [taut[i : i + _AT_ONCE] for i in range(0, len(taut), _AT_ONCE)]
        # what is interpolated is worth no more
        short = _DRAWN if len(taut) > FEW else SHORT
        return [
            *rest,
            *(x for part in parts for x in SpringState.many(geometry, self.balance, part, short)),
        ]

    def solve_many(
        self, *, loads: Sequence[float] = (), lengths: Sequence[float] = ()
    ) -> list[Solved | None]:
        """Return the equilibria at many loads or lengths, in rising order; None for at rest."""
        if lengths:
            wanted = [x - self.free_length for x in sorted(lengths)]
            least, key = self.solve(self.least).extension, _extension
        else:
            wanted, least, key = sorted(loads), self.least, _load
        solve = self._at_extension if lengths else self.solve
        sweep = Sweep(self.balance, solve, self.solve, key)
        found = sweep.states([x for x in wanted if x >= least])
        return [*(None for x in wanted if x < least), *found]

    def _at_extension(self, extension: float) -> Solved:
        return self.solve_length(self.free_length + extension)

    def loads(self, lengths: Array) -> tuple[Array, Array]:
        """Return loads, N, and stored energy, N mm, at lengths ``(n,) float, mm``.

        Below the free length the spring is slack: neither. The energy is the area under the
        curve: between neighbouring lengths that of the cubic with the curve's own slopes.
        """
        order = np.argsort(lengths, kind="stable")
        taut = [x for x in lengths[order].tolist() if x > self.free_length]
        distinct = sorted(set(taut))
        found = [x for x in self.solve_many(lengths=distinct) if x is not None]
        extension, load, slope = np.array(
            [(0.0, 0.0, 1 / self.solve(self.least).compliance)]
            + [(s.extension, s.load, 1 / s.compliance) for s in found]
        ).T
        step = np.diff(extension)
        area = step * (load[1:] + load[:-1]) / 2 - step**2 * np.diff(slope) / 12
        energy = np.concatenate([[0.0], np.cumsum(area)])
        at = np.maximum(lengths - self.free_length, 0.0)
        index = np.abs(at[:, None] - extension).argmin(axis=1)
        return load[index], energy[index]

    @property
    def _first_least(self) -> float:
        """What is tried first for the least load, N."""
        g = self.spring.geometry
        return _LEAST * self.spring.G * g.wire_diameter**5 / (8 * (2 * g.coil_radius) ** 3)

    @cached_property
    def least(self) -> float:
        """Below this load, N, length and forces are taken as a straight line from rest.

        As small as the solver settles at: a spring that pulls beside its axis is held upright by
        its load alone.
        """
        load = self._first_least
        for _ in range(_LEASTS):
            try:
                found = self.balance.at_load(load)
            except (NotSettledError, np.linalg.LinAlgError):
                load *= 10
                continue
            self._known[load] = found
            break
        return load

    def _near(self, load: float) -> tuple[Solved | None, Solved | None]:
        """Return the known state nearest to a load, by preference below it, and a better guess."""
        self.balance  # noqa: B018  (fills in the first states)
        known = [*self._known.values(), *self._start]
        below = max((x for x in known if x.load <= load), key=_load, default=None)
        above = min((x for x in known if x.load > load), key=_load, default=None)
        if below is None:
            return (above if above is not None and above.load <= 4 * load else None), None
        if self.balance.in_contact(below.shape):  # through the knee forces follow no cubic
            if above is None:
                return below, None
            if not self.balance.in_contact(above.shape):
                return below, self.balance.onward(above, load)
            return below, Stretch(self.balance, below, above).at(load)
        if above is None:
            lower = (x for x in known if x.load < below.load)
            before = max(lower, key=_load, default=None)
            if before is not None and self.balance.in_contact(before.shape):
                before = None
            return below, self.balance.onward(below, load, before)
        return below, Stretch(self.balance, below, above).at(load)

    def _toward(self, extension: float) -> Solved:
        """Return a state near an extension, of this spring or nearly; find one if there is none."""
        self.balance  # noqa: B018
        if not self._known and not self._start:
            self.solve(1e3 * self.least)
        known = [*self._known.values(), *self._start]
        return min(known, key=lambda s: abs(s.extension - extension))

    def _refined(self, near: Solved, extension: float) -> Solved:
        """Return the state at an extension: by length where the curve is steady, else by load."""
        low, high = self._bracket(extension)
        near = self._blended(low, high, extension) or near
        for _ in range(60):
            try:
                found = self.balance.at_extension(extension, near)
                if self._astray(found) is None:
                    return found
            except (NotSettledError, np.linalg.LinAlgError):
                pass
            load = near.load + (extension - near.extension) / near.compliance
            if not low < load < high:
                load = (low + high) / 2 if math.isfinite(high) else 2 * near.load
            try:
                near = self.solve(load)
            except SpecError:  # the straight line from a soft state overshoots
                high = load
                continue
            off = extension - near.extension
            if abs(off) <= 1e-9 * self.spring.geometry.wire_diameter:
                return near
            low, high = (max(low, load), high) if off > 0 else (low, min(high, load))
        return near

    def _blended(self, low: float, high: float, extension: float) -> Solved | None:
        """Return a state between two known loads, if coils press at both."""
        a, b = self._known.get(low), self._known.get(high)
        if a is None or b is None or not all(self.balance.in_contact(x.shape) for x in (a, b)):
            return None
        between = Stretch(self.balance, a, b)
        return between.at(between.load(extension))

    def _bracket(self, extension: float) -> tuple[float, float]:
        below = [s.load for s in self._known.values() if s.extension <= extension]
        above = [s.load for s in self._known.values() if s.extension > extension]
        return max(below, default=0.0), min(above, default=math.inf)

    def _check(self, found: Solved) -> None:
        if not (found.compliance > 0 and found.extension > 0):
            raise not_found(found.load)
        if self.free_length + found.extension > self.longest:
            raise too_much(found.load)
