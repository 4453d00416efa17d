"""The spring in one state: its centreline, its fitted parts, what wire, pins and coils bear."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.cell import Strain
from springgeo.equilibrium.contact import FELT
from springgeo.equilibrium.hung import pull_points
from springgeo.equilibrium.natural import node_axes
from springgeo.equilibrium.newton import Shape
from springgeo.equilibrium.solved import Solved
from springgeo.equilibrium.state.forces import Reaction, Wrenches, reactions
from springgeo.equilibrium.state.shape import Loaded, Pose, loaded
from springgeo.fittings import Part
from springgeo.spring.geometry import Geometry


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
        start = pull_points(geometry)[0]
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
        """Return the spring in a solved state.

        The wire's own stretch is not drawn: the shape is that of the length, drawn with as much
        more pull as the stretch would ask for.
        """
        shape = at.shape
        start, end = pull_points(geometry)
        whole = float(np.linalg.norm(end - start)) + at.extension
        more = (at.extension - balance.risen(shape)) / at.rates.chord
        drawn = _drawn(geometry, balance, at, more)
        # the shape is not quite linear in the pull: once more, from what was reached
        axes, origin = drawn.b
        missed = whole - float((axes @ end + origin - start)[2])
        drawn = _drawn(geometry, balance, at, more + missed / at.rates.chord, drawn)
        side = {"first": drawn.a, "second": drawn.b}
        parts = tuple(p.moved(*side[p.name.partition(".")[0]]) for p in geometry.parts)
        place = np.eye(3), start
        return cls._made(balance, shape, geometry.length + at.extension, drawn, place, parts)

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
        return cls(
            load=shape.load,
            length=length,
            path=drawn.path,
            parts=parts,
            wrenches=Wrenches.of(rod, shape, *place),
            pins=(turned[0], turned[1]),
            contact=CoilContact(
                rod.pairs.places(rod.drawn.s),
                np.where(shape.pressing > math.exp(-FELT) * rod.law.scale, shape.pressing, 0.0),
                gap,
                gap > 10 * rod.width,
            ),
            motion_a=drawn.a,
            motion_b=drawn.b,
        )


def _drawn(
    geometry: Geometry, balance: Balance, at: Solved, more: float, near: Loaded | None = None
) -> Loaded:
    """Return the wire at ``more`` N than a solved state, by that state's rates."""
    strain = Strain(
        at.shape.strain.middle + more * at.rates.strain.middle,
        at.shape.strain.slope + more * at.rates.strain.slope,
    )
    first = balance.placed(at.shape, at.rates, more)
    at_start = Pose(first.R, first.p + pull_points(geometry)[0])
    return loaded(geometry.path, balance.rod.drawn, strain, at_start, near)
