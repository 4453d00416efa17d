"""What an overload leaves of a spring: length, opening of the hooks, initial tension."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import cross, orthonormal
from springgeo.equilibrium.balance import Balance, Solved
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.newton import NotSettledError, Shape
from springgeo.equilibrium.prestress import measured
from springgeo.errors import SpecError
from springgeo.overload.law import Law
from springgeo.overload.yielding import Yielding

# loads between first yield and the overload; what counts as no load over that at first yield
STEPS, _SLACK = 3, 0.02
_ROUNDS, _FINE = 40, 1e-3
# growth of the load in search of one that costs length, and how near that is found
_GROWTH, _NEAR, _SEARCHED = 1.06, 2e-3, 60


@dataclass(frozen=True)
class After:
    """A spring that was drawn too far, and let go.

    Attributes
    ----------
    load, length : float, N and mm
        Of the overload.
    lengthened : float, mm
        By how much the length inside hooks stays greater without load.
    opened : (float or None, float or None), mm
        By how much the cut end of either hook stays further from the body; None for other ends.
    initial_tension : float, N
        What is left of it, as the trade measures it.
    """

    load: float
    length: float
    lengthened: float
    opened: tuple[float | None, float | None]
    initial_tension: float


@dataclass(frozen=True, eq=False)
class Overloaded:
    """A spring under loads beyond its elastic limit.

    Parameters
    ----------
    curve : LoadCurve
        The elastic spring.
    law : Law
    relieved : float
        Share of the residual stress of coiling that heat treatment has taken away, 0 to 1.
    """

    curve: LoadCurve
    law: Law
    relieved: float = 1.0

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
        d, D = curve.spring.geometry.diameter, 2 * curve.spring.geometry.radius
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
            now = now.loaded(at)
        return self._after(now)

    def after_length(self, length: float) -> After:
        """Return what drawing to a length inside hooks, mm, leaves; raises NotSettledError."""
        free = self.curve.free_length
        start = self.curve.length(self._begins)
        if length <= start:
            return self._unharmed(self.curve.load(length))
        now = self.made.loaded(self._begins)
        for at in np.linspace(start, length, STEPS + 1)[1:].tolist():
            now = now.lengthened(at - free)
        return self._after(now)

    def load_costing(self, share: float) -> tuple[float, float] | None:
        """Return the load, N, that costs a share of the free length, and the length it draws to.

        None where the wire yields through first.
        """
        if math.isinf(self.first_yield):
            return None
        wanted = share * self.curve.free_length
        below, now = (self._begins, 0.0), self.made
        try:
            for _ in range(_SEARCHED):
                load = _GROWTH * below[0]
                tried = now.loaded(load)
                left = self._lengthened(tried)
                if left >= wanted:
                    break
                below, now = (load, left), tried
            else:
                return None
            above, found = (load, left), tried
            while above[0] - below[0] > _NEAR * above[0]:
                # set grows faster than the load: the secant falls short, the middle helps
                aim = below[0] + (above[0] - below[0]) * max(
                    0.5, (wanted - below[1]) / (above[1] - below[1])
                )
                tried = now.loaded(aim)
                left = self._lengthened(tried)
                if left >= wanted:
                    above, found = (aim, left), tried
                else:
                    below, now = (aim, left), tried
                if abs(left - wanted) <= 10 * _NEAR * wanted:
                    return aim, self._length(tried)
        except NotSettledError:
            return None
        return above[0], self._length(found)

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
        return _SLACK * self.first_yield

    @cached_property
    def _rest(self) -> Solved:
        return Balance(self.curve.balance.rod).at_load(self._small)

    def _lengthened(self, now: Yielding) -> float:
        let_go = now.unloaded(self._small).at
        assert let_go is not None
        return _slack(let_go) - _slack(self._rest)

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
        line, first = measured(Balance(now.elastic()), wound), self._as_wound
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


def _slack(at: Solved) -> float:
    """Return the extension without load: a state under next to none, followed back."""
    return at.extension - at.load * at.compliance
