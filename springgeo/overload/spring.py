"""What an overload leaves of a spring: length, opening of the hooks, initial tension."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import cross, orthonormal
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.newton import NotSettledError
from springgeo.equilibrium.posed import Shape
from springgeo.equilibrium.prestress import measured
from springgeo.equilibrium.solved import Solved
from springgeo.errors import SpecError
from springgeo.overload.after import After
from springgeo.overload.law import Law
from springgeo.overload.yielding import Yielding

# loads between first yield and the overload; what counts as no load over that at first yield, and
# over the initial tension: from a third of it on a body pulled at its side rolls open
STEPS, _SLACK = 3, 0.02
_ROUNDS, _FINE = 40, 1e-3
# growth of the load in search of one that costs length, how near that is found, and of the set
_GROWTH, _NEAR, _SEARCHED = (1.04, 1.12), 2e-3, 60
_MET = 0.02
# set grows about so many times as fast as the load beyond first yield
_POWER = 2.0


@dataclass(frozen=True, eq=False)
class Overloaded:
    """A spring, elastic by its ``curve``, under loads beyond the elastic limit.

    ``relieved`` is the share of the residual stress of coiling that heat treatment has taken
    away, 0 to 1; ``told``, if any, is told every load that is looked at, N.
    """

    curve: LoadCurve
    law: Law
    relieved: float = 1.0
    told: Callable[[float], object] | None = None

    @cached_property
    def made(self) -> Yielding:
        """The spring as made."""
        return Yielding.of(self.curve.balance.rod, self.law, self.relieved)

    @cached_property
    def first_yield(self) -> float:
        """Load at which the first fibre yields, coiling stress left out, N: where steps begin.

        Infinite for a spring so soft that its wire is drawn straight before.
        """
        curve = self.curve
        d, D = curve.spring.geometry.wire_diameter, 2 * curve.spring.geometry.coil_radius
        load = np.pi * d**3 * self.law.torsion / (8 * D)
        for _ in range(_ROUNDS):
            try:
                new = load / self.made.share(curve.solve(load).shape)
            except SpecError:
                return math.inf
            if abs(new - load) <= _FINE * load:
                break
            load = min(new, 2 * load)
        return float(new)

    @property
    def _begins(self) -> float:
        # wire with residual stress yields at any load
        return self.first_yield * (1.0 if self.relieved == 1.0 else 0.3)

    def after_load(self, load: float) -> After:
        """Return what a load, N, leaves of the spring; raises NotSettledError."""
        if load <= self._begins:
            return self._unharmed(load)
        now = self.made
        for at in np.linspace(self._begins, load, STEPS + 1)[1:].tolist():
            now = self._loaded(now, at)
        return self._after(now)

    def after_length(self, length: float) -> After:
        """Return what drawing to a length inside hooks, mm, leaves; raises NotSettledError."""
        free = self.curve.free_length
        start = self.curve.length(self._begins)
        if length <= start:
            return self._unharmed(self.curve.load(length))
        now = self._loaded(self.made, self._begins)
        for at in np.linspace(start, length, STEPS + 1)[1:].tolist():
            now = now.lengthened(at - free)
            self._tell(now)
        return self._after(now)

    def load_costing(self, share: float) -> tuple[float, float] | None:
        """Return the load, N, that costs a share of the free length, and the length it draws to.

        None where the wire yields through first.
        """
        if math.isinf(self.first_yield):
            return None
        wanted = share * self.curve.free_length
        try:
            load, now = self._costing(wanted, self._about)
            left = self._lengthened(now)
            if abs(left - wanted) > 2 * _MET * wanted:  # it flows back as it is let down
                load, now = self._costing(wanted, self._lengthened)
        except NotSettledError:
            return None
        return load, self._length(now)

    def _costing(
        self, wanted: float, lengthened: Callable[[Yielding], float]
    ) -> tuple[float, Yielding]:
        """Return the load, N, that lengthens the spring by ``wanted`` mm, and its state there."""
        begins, now = self._begins, self.made
        below, last, power = begins, None, _POWER
        above: tuple[float, Yielding | None] = math.inf, None
        load = _GROWTH[0] * begins
        for _ in range(_SEARCHED):
            aim = math.inf
            try:
                tried = self._loaded(now, load)
                left = lengthened(tried)
            except NotSettledError:  # yields through, or was asked for too much at once
                above = load, None
                aim = (below + load) / 2
            else:
                if abs(left - wanted) <= _MET * wanted:
                    return load, tried
                if left > 0.0:
                    power = _power(begins, (load, left), last, power)
                    last = load, left
                    aim = begins + (load - begins) * (wanted / left) ** (1 / power)
                if left < wanted:
                    below, now = load, tried
                else:
                    above = load, tried
            if math.isinf(above[0]):
                load = min(max(aim, _GROWTH[0] * load), _GROWTH[1] * load)
                continue
            room = above[0] - below
            if room <= _NEAR * above[0]:
                if above[1] is None:
                    break
                return above[0], above[1]
            load = min(max(aim, below + room / 10), above[0] - room / 10)
        raise NotSettledError(f"no load that costs {wanted:g} mm")

    def _loaded(self, now: Yielding, load: float) -> Yielding:
        found = now.loaded(load)
        self._tell(found)
        return found

    def _tell(self, now: Yielding) -> None:
        if self.told is not None and now.at is not None:
            self.told(now.at.load)

    def _unharmed(self, load: float) -> After:
        curve = self.curve
        g = curve.spring.geometry
        kept = tuple(None if s is None else 0.0 for s in g.contact_s)
        return After(load, curve.length(load), 0.0, (kept[0], kept[1]), curve.initial_tension)

    def _length(self, now: Yielding) -> float:
        assert now.at is not None
        return self.curve.free_length + now.at.extension

    @property
    def _small(self) -> float:
        wound = self.curve.initial_tension
        return _SLACK * (min(wound, self.first_yield) if wound > 0.0 else self.first_yield)

    @cached_property
    def _rest(self) -> Solved:
        return Balance(self.curve.balance.rod).at_load(self._small)

    def _lengthened(self, now: Yielding) -> float:
        let_go = now.unloaded(self._small).at
        assert let_go is not None
        return _slack(let_go) - _slack(self._rest)

    def _about(self, now: Yielding) -> float:
        """Return the same as if nothing flowed back: one elastic state."""
        return _slack(now.released(self._small)) - _slack(self._rest)

    def _after(self, now: Yielding) -> After:
        down = now.unloaded(self._small)
        assert now.at is not None
        assert down.at is not None
        lengthened = _slack(down.at) - _slack(self._rest)
        was, left = self._openings(self._rest.shape), self._openings(down.at.shape)
        opened = [None if a is None or b is None else b - a for a, b in zip(was, left, strict=True)]
        return After(
            now.at.load,
            self._length(now),
            lengthened,
            (opened[0], opened[1]),
            self._tension(down, lengthened),
        )

    def _tension(self, now: Yielding, lengthened: float) -> float:
        """Return the initial tension left, N: the straight part extended back to the new length."""
        wound = self.curve.initial_tension
        if wound == 0.0:
            return 0.0
        line, first = measured(Balance(now.elastic), wound), self._as_wound
        return max(0.0, wound + line.force + line.rate * lengthened - first)

    @cached_property
    def _as_wound(self) -> float:
        return measured(self.curve.balance, self.curve.initial_tension).force

    def _openings(self, shape: Shape) -> list[float | None]:
        """Return how far the cut end of each hook is from the last coil along the coil's axis."""
        g, rod = self.curve.spring.geometry, self.curve.balance.rod
        wire, path = rod.drawn, g.path
        body = [i for i, piece in enumerate(path.pieces) if piece.role == "body"]
        coils = np.flatnonzero(np.isin(wire.piece, body))
        upright = wire.R[0] @ _axes(path.tangent(wire.s[:1]), path.normal(wire.s[:1])).T
        found: list[float | None] = []
        roots, tips = (coils[0], coils[-1] + 1), (0.0, path.length)
        for node, root, tip, s, away in zip(
            (0, -1), roots, tips, g.contact_s, (-1, 1), strict=True
        ):
            if s is None:
                found.append(None)
                continue
            cut, held = path.point(np.array([tip]))[0], path.point(wire.s[[node]])[0]
            beyond = wire.R[node].T @ upright @ (cut - held)
            axis = shape.R[root] @ wire.R[root].T @ upright[:, 2]
            at = shape.p[node] + shape.R[node] @ beyond
            found.append(float(away * axis @ (at - shape.p[root])))
        return found


def _axes(t: Array, n: Array) -> Array:
    found: Array = orthonormal(np.stack([t, n, cross(t, n)], axis=2))[0]
    return found


def _power(
    begins: float, at: tuple[float, float], last: tuple[float, float] | None, power: float
) -> float:
    """Return the power with which set grew from the last load to this one, or the one so far."""
    if last is None or last[1] == at[1]:
        return power
    grown = math.log(at[1] / last[1]) / math.log((at[0] - begins) / (last[0] - begins))
    return min(max(grown, 0.5), 6.0)


def _slack(at: Solved) -> float:
    """Return the extension without load: a state under next to none, followed back."""
    return at.extension - at.load * at.compliance
