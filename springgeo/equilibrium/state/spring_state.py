"""The spring in one state: its centreline, its fitted parts, what wire, pins and coils bear."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.cell import Strain
from springgeo.equilibrium.contact.pairs import FELT
from springgeo.equilibrium.natural import node_axes
from springgeo.equilibrium.posed import Shape
from springgeo.equilibrium.solved import Solved
from springgeo.equilibrium.state.forces import Reaction, Wrenches, reactions
from springgeo.equilibrium.state.shape import Loaded, Pose, Wire
from springgeo.fittings import Part
from springgeo.spring.geometry import Geometry

# so many states are drawn at once: more do not go faster
_AT_ONCE = 32
# by what share the length that is drawn may be off
SHORT = 1e-9
# what a run of wire may miss of its end, in rad and of its size: the length is put right after it
_MISSED = 5e-9


@dataclass(frozen=True, eq=False)
class CoilContact:
    """How neighbouring coils press on each other.

    Attributes
    ----------
    s : (k,) float, mm
        Arc length of the lower place, one turn before the other.
    force : (k,) float, N
        Never below zero.
    gap : (k,) float, mm
        Beyond where they touch.
    parted : (k,) bool
    """

    s: Array
    force: Array
    gap: Array
    parted: npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class SpringState:
    """A spring in equilibrium.

    The contact of end A stands where it is drawn and the pull runs along +z, so that a spring
    whose contacts are out of line is drawn upright once it is loaded.

    Attributes
    ----------
    load : float, N
    length : float, mm
        Inside hooks.
    path : Path
        The wire; its length is that of the drawn one.
    parts : tuple of Part
        Fitted parts, moved with the coils that hold them.
    wrenches : Wrenches
        Force and moment in the wire.
    pins : (Reaction, Reaction)
        What the pins of A and B do to the spring.
    contact : CoilContact
    motion_a, motion_b : (axes, origin)
        The motion from the drawn spring of what is rigid with either end.
    """

    load: float
    length: float
    path: Path
    parts: tuple[Part, ...]
    wrenches: Wrenches
    pins: tuple[Reaction, Reaction]
    contact: CoilContact
    motion_a: tuple[Array, Array]
    motion_b: tuple[Array, Array]

    @classmethod
    def at_rest(cls, geometry: Geometry, balance: Balance) -> SpringState:
        """Return the spring as drawn."""
        start = geometry.pull_points[0]
        stay = np.eye(3), np.zeros(3)
        drawn = Loaded(geometry.path, stay, stay)
        # the rod was turned upright; the drawn spring leans as it was drawn
        first = balance.rod.drawn.R[0]
        axes = node_axes(geometry.path, float(balance.rod.drawn.s[0])) @ first.T
        return cls._made(
            balance, balance.rest, geometry.length, drawn, (axes, start), geometry.parts
        )

    @classmethod
    def of(cls, geometry: Geometry, balance: Balance, at: Solved) -> SpringState:
        """Return the spring in a solved state (``many``)."""
        return cls.many(geometry, balance, [at])[0]

    @classmethod
    def many(
        cls, geometry: Geometry, balance: Balance, solved: Sequence[Solved], short: float = SHORT
    ) -> list[SpringState]:
        """Return the spring in many solved states, each like those before and after it.

        The wire's own stretch is not drawn: the shape is that of the length, drawn with as much
        more pull as the stretch would ask for. ``short`` is by what share that length may be off,
        and any run of wire by its size.
        """
        parts = [solved[i : i + _AT_ONCE] for i in range(0, len(solved), _AT_ONCE)]
        return [x for part in parts for x in cls._at_once(geometry, balance, part, short)]

    @classmethod
    def _at_once(
        cls, geometry: Geometry, balance: Balance, solved: Sequence[Solved], short: float
    ) -> list[SpringState]:
        start, _ = place = geometry.pull_points
        wire = Wire(geometry.path, balance.rod.drawn)
        strained = [_Strained(place, balance, at) for at in solved]
        pulls = _pulls(wire, strained)
        met = max(short, _MISSED)
        drawn = wire.loaded(*_of_all(strained, pulls), met=met)
        # by what smooth runs miss of their ends
        off = [x.missed(found.b) for x, found in zip(strained, drawn, strict=True)]
        missed = [i for i, x in enumerate(strained) if abs(off[i]) > short * x.whole]
        if missed:
            pulls = [pulls[i] + off[i] / solved[i].rates.chord for i in missed]
            near = [drawn[i] for i in missed]
            again = wire.loaded(*_of_all([strained[i] for i in missed], pulls), near, met)
            for i, found in zip(missed, again, strict=True):
                drawn[i] = found
        up = np.eye(3), start
        states = []
        for at, found in zip(solved, drawn, strict=True):
            side = {"first": found.a, "second": found.b}
            parts = tuple(p.moved(*side[p.name.partition(".")[0]]) for p in geometry.parts)
            length = geometry.length + at.extension
            states.append(cls._made(balance, at.shape, length, found, up, parts))
        return states

    @classmethod
    def _made(
        cls,
        balance: Balance,
        shape: Shape,
        length: float,
        drawn: Loaded,
        place: tuple[Array, Array],
        parts: tuple[Part, ...],
    ) -> SpringState:
        rod = balance.rod
        pins = reactions(rod, shape)
        turned = tuple(Reaction(place[0] @ r.force, place[0] @ r.moment) for r in pins)
        gap = rod.pairs.gaps(shape.R, shape.p)
        felt = np.where(shape.pressing > math.exp(-FELT) * rod.law.scale, shape.pressing, 0.0)
        return cls(
            load=shape.load,
            length=length,
            path=drawn.path,
            parts=parts,
            wrenches=Wrenches.of(rod, shape, *place),
            pins=(turned[0], turned[1]),
            contact=CoilContact(
                rod.pairs.places(rod.drawn.s),
                rod.pairs.weight * felt,
                gap,
                gap > 10 * rod.width,
            ),
            motion_a=drawn.a,
            motion_b=drawn.b,
        )


@dataclass(frozen=True, eq=False)
class _Strained:
    """A spring with a little more pull than that of a solved state, by that state's rates."""

    place: tuple[Array, Array]
    balance: Balance
    at: Solved

    @property
    def whole(self) -> float:
        """How far the points of pull are apart, mm."""
        return float(np.linalg.norm(self.place[1] - self.place[0])) + self.at.extension

    def missed(self, motion: tuple[Array, Array]) -> float:
        """Return how much of that is missed where B's grip makes a motion, mm."""
        start, end = self.place
        return self.whole - float((motion[0] @ end + motion[1] - start)[2])

    @property
    def stretching(self) -> float:
        """How much more pull stands for the wire's own stretch, N, the shape linear in the pull."""
        at = self.at
        return (at.extension - self.balance.risen(at.shape)) / at.rates.chord

    def strain(self, more: float) -> tuple[Strain, Pose]:
        """Return the strain with ``more`` N, and where the first node stands."""
        shape, rates = self.at.shape, self.at.rates
        strain = Strain(
            shape.strain.middle + more * rates.strain.middle,
            shape.strain.slope + more * rates.strain.slope,
        )
        first = self.balance.placed(shape, rates, more)
        return strain, Pose(first.R, first.p + self.place[0])


def _pulls(wire: Wire, strained: Sequence[_Strained]) -> list[float]:
    """Return how much more pull stands for the stretch of the wire in each state, N."""
    pulls = [x.stretching for x in strained]
    # the shape is not quite linear in the pull: once more, from what was reached
    motions = wire.far_motions(*_of_all(strained, pulls))
    return [
        more + x.missed(motion) / x.at.rates.chord
        for more, x, motion in zip(pulls, strained, motions, strict=True)
    ]


def _of_all(
    strained: Sequence[_Strained], pulls: Sequence[float]
) -> tuple[list[Strain], list[Pose]]:
    found = [x.strain(more) for x, more in zip(strained, pulls, strict=True)]
    return [strain for strain, _ in found], [first for _, first in found]
