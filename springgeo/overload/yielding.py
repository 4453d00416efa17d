"""The spring in equilibrium while its wire yields.

The sections at both Gauss points of every cell answer the cell's strain; about the last trial
they are linear, and the rod with that answer is brought to equilibrium as elastic wire is. A few
rounds settle both (Newton's method with the sections' consistent tangent). What the sections have
flowed is kept between loads.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array, unit
from springgeo.curve.motion import apply, rotation
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.cell import Strain, ends
from springgeo.equilibrium.hung import to_z
from springgeo.equilibrium.natural import placed
from springgeo.equilibrium.newton import NotSettledError
from springgeo.equilibrium.posed import Shape
from springgeo.equilibrium.rod import Answer, Rod
from springgeo.equilibrium.solved import Solved
from springgeo.overload.fibres import LEAST, Borne, Sections, solved, stretch
from springgeo.overload.law import Law
from springgeo.overload.residual import coiled
from springgeo.overload.wire import Wire

# rounds, and the change of a cell's turning, rad, that is the last
_ROUNDS, _SETTLED = 40, 1e-7
_GAUSS = (1 + 1 / np.sqrt(3)) / 2, (1 - 1 / np.sqrt(3)) / 2


@dataclass(frozen=True, eq=False)
class Yielding:
    """A spring whose wire has flowed in some places, and the state it is in.

    Attributes
    ----------
    rod : Rod
        As wound, elastic.
    wire : Wire
        Its sections before they yield.
    sections : Sections
        Those that are asked fibre by fibre.
    at : Solved or None
        The state; None before any load.
    """

    rod: Rod
    wire: Wire
    sections: Sections
    at: Solved | None = None

    @classmethod
    def of(cls, rod: Rod, law: Law, relieved: float = 1.0) -> Yielding:
        """Return a spring as made; ``relieved`` is the share of coiling stress annealed away."""
        wire = Wire.of(rod, law)
        curvature = np.concatenate(rod.drawn.strain.points)[wire.asked.rows, 1:]
        sections = Sections.made(law, rod.wire_diameter, curvature)
        if relieved < 1.0:
            sections = replace(
                sections, locked=(1 - relieved) * coiled(law, rod.wire_diameter, curvature)
            )
        return cls(rod, wire, sections)

    def loaded(self, load: float) -> Yielding:
        """Return the spring at a load above zero, N; raises NotSettledError."""
        near = self.at if self.at is not None else Balance(self.rod).at_load(load)
        for _ in range(_ROUNDS):
            borne, rod = self._borne(near.shape)
            found = _found(Balance(rod).at_load, load, near)
            off = _apart(rod, found.shape.strain, near.shape.strain)
            near = found
            if off < _SETTLED and found.load == load:
                return replace(self, sections=self.sections.kept(borne), at=found)
        raise NotSettledError(f"the wire yields through at {load:g} N")

    def lengthened(self, extension: float) -> Yielding:
        """Return the spring at an extension from as drawn, mm; raises NotSettledError."""
        near = self.at
        assert near is not None
        for _ in range(_ROUNDS):
            borne, rod = self._borne(near.shape)
            found = _found(Balance(rod).at_extension, extension, near)
            off = _apart(rod, found.shape.strain, near.shape.strain)
            near = found
            if off < _SETTLED:
                return replace(self, sections=self.sections.kept(borne), at=found)
        raise NotSettledError("the wire yields through")

    def share(self, shape: Shape) -> float:
        """Return how near the wire is to yielding at an elastic shape: one where it begins to."""
        turn, force = self._strained(shape)
        rows = self.wire.asked.rows
        return float(self.sections.share(turn[rows], force[rows]).max())

    def unloaded(self, load: float) -> Yielding:
        """Return the spring let down to a small load, N; raises NotSettledError.

        Letting down is elastic unless a part of a section flows back; that is seen to.
        """
        if self.at is None:
            return self.loaded(load)
        try:
            return replace(self, at=self.released(load)).loaded(load)
        except NotSettledError:
            return self._stepped_down(load)

    def released(self, load: float) -> Solved:
        """Return the spring let down to a small load, N, as if it did not flow any more."""
        assert self.at is not None
        return _let_down(Balance(self.elastic), load, self._rested(load), self.at)

    def _stepped_down(self, load: float) -> Yielding:
        """Return the same by halving the load, each step settled: where much flows back."""
        now = self
        while now.at is not None and now.at.load > load:
            now = now.loaded(max(load, now.at.load / 2))
        return now

    def _rested(self, load: float) -> Solved:
        """Return about where the spring comes to rest: as drawn, with its set, hung upright."""
        rod, more = self.rod, self.set
        own = rod.drawn.strain
        strain = Strain(own.middle + more.middle, own.slope + more.slope)
        near, far = ends(rod.drawn.length, strain)
        R, p = placed(rod.drawn.R[0], np.zeros(3), near.then(far))
        first = rod.supports.a.point(R[0], p[0])
        upright = to_z(unit(rod.supports.b.point(R[-1], p[-1]) - first))
        R, p = upright @ R, (p - first) @ upright.T
        pressing = rod.law.at(rod.pairs.gaps(R, p)) if len(rod.pairs) else np.zeros(0)
        assert self.at is not None
        wrench = np.zeros_like(self.at.shape.wrench)
        return replace(self.at, shape=Shape(load, R, p, strain, wrench, pressing), extension=0.0)

    @cached_property
    def set(self) -> Strain:
        """Change of the natural strain that flowing has left, 1/mm."""
        # at no strain the section bears what would bring it back: minus stiffness times set
        held = self.wire.asked.spread(self.sections.held())
        a, b = np.split(-held / np.tile(self.rod.stiffness, (2, 1)), 2)
        return Strain((a + b) / 2, (b - a) / 2)

    @cached_property
    def elastic(self) -> Rod:
        """The rod with its set, as elastic wire."""
        own, more = self.rod.natural, self.set
        natural = Strain(own.middle + more.middle, own.slope + more.slope)
        return replace(self.rod, answer=Answer(natural, self.rod.stiffness))

    def _strained(self, shape: Shape) -> tuple[Array, Array]:
        """Return twist and bends ``(2n, 3) 1/mm`` of the sections, and the forces on them, N.

        In a bent section forces turn as well; the rod's own law leaves that out, so that it is
        added here: elastic sections bear the rod's moments.
        """
        natural, force, wire = self.rod.natural, self._force(shape), self.wire
        own, now = np.concatenate(natural.points), np.concatenate(shape.strain.points)
        K = wire.stiffness
        aside = solved(K[:, :3, :3], force[..., None])[..., 0]
        coupled = solved(wire.bending, apply(K[:, 3:, :3], aside)[..., None])
        return apply(wire.scale, now - own) - coupled[..., 0], force

    def _force(self, shape: Shape) -> Array:
        """Return pull and shears at the sections, ``(2n, 3) N``."""
        length = self.rod.drawn.length[:, None]
        found = []
        for left, strain in zip(_GAUSS, shape.strain.points, strict=True):
            # the far end's axes seen from the Gauss point's
            mean = (1 - left) * shape.strain.middle + left * (strain + shape.strain.middle) / 2
            turn = rotation(left * length * mean)
            found.append(apply(turn, shape.wrench[:, :3]))
        return np.concatenate(found)

    def _borne(self, shape: Shape) -> tuple[Borne, Rod]:
        """Return how the sections answer a shape's strain, and the rod that answers so."""
        (turn, force), wire = self._strained(shape), self.wire
        spread, rows = wire.asked.spread, wire.asked.rows
        borne = self.sections.at(turn[rows], force[rows])
        # what yielding takes off the elastic moments, and off their slope
        K = wire.stiffness
        strain = np.concatenate([stretch(K, turn, force), turn], axis=1)
        elastic = apply(K[:, 3:], strain)
        lost = elastic[rows] - borne.moments
        softer = wire.bending[rows] - borne.bending_tangent(LEAST * self.sections.elastic)
        softened = spread(softer)
        further = apply(softened, turn) - spread(apply(softer, turn[rows]))
        moments = elastic - spread(lost) - further
        slope = (wire.bending - softened) @ wire.scale
        (a, b), (ma, mb) = np.split(slope, 2), np.split(moments, 2)
        n = len(a)
        stiff = np.empty((n, 6, 6))
        stiff[:, :3, :3] = stiff[:, 3:, 3:] = (a + b) / 2
        stiff[:, :3, 3:] = stiff[:, 3:, :3] = (b - a) / 2
        moment = np.concatenate([(ma + mb) / 2, (mb - ma) / 2], axis=1)
        back = solved(stiff, moment[..., None])[..., 0]
        now = shape.strain
        natural = Strain(now.middle - back[:, :3], now.slope - back[:, 3:])
        return borne, replace(self.rod, answer=Answer(natural, stiff))


def _found(solve: Callable[[float, Solved], Solved], at: float, near: Solved) -> Solved:
    """Return an equilibrium; a stiffness that is lost altogether is one that does not settle."""
    try:
        return solve(at, near)
    except (ArithmeticError, np.linalg.LinAlgError) as exc:
        raise NotSettledError(str(exc)) from None


def _let_down(balance: Balance, load: float, rested: Solved, above: Solved) -> Solved:
    """Return the equilibrium at a small load: from the shape at rest, else step by step from above.

    Far from its place a spring under next to no load may be found hanging upside down.
    """
    with suppress(NotSettledError):
        found = balance.at_load(load, rested)
        if found.extension > -balance.rod.wire_diameter:
            return found
    now, near = above.load, above
    while now > load:
        now = max(load, now / 2)
        near = balance.at_load(now, near)
    return near


def _apart(rod: Rod, a: Strain, b: Strain) -> float:
    off = np.abs(a.middle - b.middle) + np.abs(a.slope - b.slope)
    return float((rod.drawn.length[:, None] * off).max())
