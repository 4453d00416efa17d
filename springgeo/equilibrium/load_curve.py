"""Load and length of a spring: one curve, with the knee of the initial tension and what follows.

Every point asked for is an equilibrium of its own; nothing is read off a straight line. Between
the points of a sweep strains are interpolated where that is good to ``EXACT``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cached_property, partial
from operator import attrgetter

import numpy as np

from springgeo.curve.frame import Array
from springgeo.ends.protocol import Turning
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.between import Between
from springgeo.equilibrium.hung import Wound, rod
from springgeo.equilibrium.newton import NotSettledError
from springgeo.equilibrium.prestress import measured, wound
from springgeo.equilibrium.refusals import (
    not_found,
    not_found_at,
    not_wound,
    require_finite,
    slack,
    too_long,
    too_much,
)
from springgeo.equilibrium.solved import Solved
from springgeo.equilibrium.state.spring_state import SHORT, SpringState
from springgeo.equilibrium.sweep import FEW, Sweep
from springgeo.equilibrium.way import Way
from springgeo.errors import SpecError

# the share of the wire's length between the contacts to which a spring may be drawn
STRAIGHTEST = 0.9
# loads below this share of the pull that opens a coil by a wire diameter are taken as a straight
# line from rest
_LEAST = 1e-5
# from this share of the pull beyond which nothing is looked for a helix is drawn nearly straight
_STRAIGHT = 0.4
# the first rung of the ladder, as a share of that pull, less where there are more cells than so
# many; how many there are at most
_RUNG, _CELLS, _RUNGS = 0.05, 320, 12
# how often ten times as much is tried
_LEASTS = 4
# each of many states is drawn as long as it is but for this share
_DRAWN = 6e-7
_load, _extension = attrgetter("load"), attrgetter("extension")


@dataclass(frozen=True, eq=False)
class LoadCurve:
    """Load over length inside hooks, from contact to contact: N and mm.

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
    made : LoadCurve, optional
        The spring as it is made and measured, where its ends are held otherwise than there: it is
        wound once, and ``tension`` is what was measured then.
    """

    spring: Wound
    turning: tuple[Turning, Turning] = ("free", "free")
    made: LoadCurve | None = None
    _known: dict[float, Solved] = field(default_factory=dict, repr=False)
    # loads for which no state was found
    _refused: dict[float, SpecError] = field(default_factory=dict, repr=False)
    # states of nearly this spring, good to start from
    _begun: list[Solved] = field(default_factory=list, repr=False)
    # states at fixed loads, each found from the one before
    _rungs: list[Solved] = field(default_factory=list, repr=False)

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
        if not len(drawn.pairs) or tension < drawn.pressing:
            return Balance(drawn)
        if self.made is not None:
            balance = Balance(drawn.pressing_with(self.made.balance.rod.pressing))
            with suppress(NotSettledError, np.linalg.LinAlgError):
                self._begun.extend(measured(balance, tension).points)
            return balance
        try:
            drawn, line = wound(drawn, tension)
        except (NotSettledError, np.linalg.LinAlgError):
            raise not_wound(tension) from None
        self._begun.extend(line.points)
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

    def solve(self, load: float) -> Solved:
        """Return the equilibrium at a load above zero, N; raises SpecError.

        It hangs on nothing that was asked before.
        """
        found = self._known.get(load)
        if found is None:
            require_finite("load", load)
            if load in self._refused:
                raise SpecError(self._refused[load].findings)
            try:
                found = self._known[load] = self._on(self.way(load), load)
            except SpecError as exc:
                self._refused[load] = exc
                raise
        return found

    def _on(self, way: Way, load: float) -> Solved:
        """Return the equilibrium at a load, N, along a way; raises SpecError."""
        try:
            found = way.at(load)
        except (NotSettledError, np.linalg.LinAlgError):
            straight = load > self.balance.most * _STRAIGHT
            raise (too_much(load) if straight else not_found(load)) from None
        if not (found.compliance > 0 and found.extension > 0):
            raise not_found(load)
        if self.free_length + found.extension > self.longest:
            raise too_much(load)
        return found

    @property
    def begun(self) -> Sequence[Solved]:
        """States of nearly this spring, coils apart: of its winding."""
        self.balance  # noqa: B018  (finds them)
        return self._begun

    def way(self, load: float = 0.0, extension: float = 0.0) -> Way:
        """Return a way toward a load, N, or an extension, mm, on which nothing was found yet.

        It begins with the winding, or at the least load; where the spring is drawn far, with
        rungs up to there.
        """
        known = {x.load: x for x in self._ladder(load, extension)}
        if not self.begun and self.least in self._known:  # what leaps are held against
            known[self.least] = self._known[self.least]
        return Way(self.balance, self.begun, known)

    def _ladder(self, load: float, extension: float) -> Iterator[Solved]:
        """Yield the states below a load or an extension at loads of which each doubles the last.

        From a leap that far a state is found in few steps, or not at all.
        """
        lowest = _RUNG * self.balance.most * min(1.0, _CELLS / self.balance.rod.size)
        lowest = max(lowest, 2 * max((x.load for x in self.begun), default=0.0))
        for k in range(_RUNGS):
            at = 2**k * lowest
            if at > self.balance.most:
                return
            if k == len(self._rungs):
                last = self._rungs[-1] if k else None
                if at >= load and (last.extension if last else 0.0) >= extension:
                    return
                first = self._known.get(self.least) if not self.begun else None
                known = {x.load: x for x in (first, *self._rungs) if x is not None}
                try:
                    self._rungs.append(Way(self.balance, self.begun, known).at(at))
                except (NotSettledError, np.linalg.LinAlgError):
                    return
            rung = self._rungs[k]
            if at < load or rung.extension < extension:
                yield rung

    def one_way(self, most: float = 0.0) -> Callable[[float], Solved]:
        """Return ``solve`` for many loads up to one, N: each found from those found before."""
        return partial(self._on, self.way(most))

    def between(self, most: float = 0.0) -> Between:
        """Return what lies between states solved for it: for questions up to a load, N."""
        way = self.way(most)
        return Between(self.balance, way.known, partial(self._on, way))

    def solve_length(self, length: float) -> Solved:
        """Return the equilibrium at a length above the free length, mm; raises SpecError.

        It hangs on nothing that was asked before; from then on it is that at its load.
        """
        require_finite("length", length)
        way = self.way(extension=min(length, self.longest) - self.free_length)
        found = self._at_extension(way, length - self.free_length, length)
        self._known[found.load] = found
        return found

    def _at_extension(self, way: Way, extension: float, length: float | None = None) -> Solved:
        length = self.free_length + extension if length is None else length
        require_finite("length", length)
        if length > self.longest:
            raise too_long(length, self.longest)
        try:
            return way.at_extension(extension)
        except (NotSettledError, np.linalg.LinAlgError):
            raise not_found_at(length) from None

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
        # what is interpolated is worth no more
        short = _DRAWN if len(taut) > FEW else SHORT
        return [*rest, *SpringState.many(geometry, self.balance, taut, short)]

    def solve_many(
        self, *, loads: Sequence[float] = (), lengths: Sequence[float] = ()
    ) -> list[Solved | None]:
        """Return the equilibria at many loads or lengths, in rising order; None for at rest."""
        if lengths:
            wanted = [x - self.free_length for x in sorted(lengths)]
            least, key = self.solve(self.least).extension, _extension
        else:
            wanted, least, key = sorted(loads), self.least, _load
        taut = [x for x in wanted if x >= least]
        last = taut[-1] if taut else 0.0
        way = self.way(extension=last) if lengths else self.way(last)
        at_load = partial(self._on, way) if len(taut) > FEW else self.solve
        solve = partial(self._at_extension, way) if lengths else at_load
        found = Sweep(self.balance, solve, at_load, key).states(taut)
        return [*(None for x in wanted if x < least), *found]

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
