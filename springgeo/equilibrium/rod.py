"""The spring as a rod: cells of wire, their stiffness, how the ends are held, which coils touch."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array
from springgeo.equilibrium.boundary import Supports
from springgeo.equilibrium.cell import Strain, wrench_moments
from springgeo.equilibrium.contact.pairs import FELT, Law, Pairs
from springgeo.equilibrium.mounted.weight import Weight
from springgeo.equilibrium.natural import Drawn
from springgeo.mechanics import round_wire


@dataclass(frozen=True, eq=False)
class Answer:
    """How cells answer a strain, linear about a state.

    At ``natural`` they bear no moment; ``stiffness``, (n, 3) or (n, 6, 6), N mm², is as
    ``cell.linearised`` takes it.
    """

    natural: Strain
    stiffness: Array


@dataclass(frozen=True, eq=False)
class Rod:
    """Everything that does not change with the load.

    Attributes
    ----------
    drawn : Drawn
        The wire between its contacts; the pull runs along +z, A's point is the origin.
    stiffness : (n, 3) float, N mm²
        GJ (corrected for curvature), EI, EI of each cell.
    axial : float, N
        EA: the wire's own stretch is counted in the length, not in the shape.
    wire_diameter : float, mm
    supports : Supports
    pairs : Pairs
    pressing : float, N
        Pull against which neighbouring coils press where they touch.
    width : float, mm
        In which the contact's force falls by e.
    answer : Answer or None
        How the cells answer where they do not as elastic wire as drawn.
    weight : Weight or None
        Of the wire itself, where it counts.
    """

    drawn: Drawn
    stiffness: Array
    axial: float
    wire_diameter: float
    supports: Supports
    pairs: Pairs
    pressing: float
    width: float
    answer: Answer | None = None
    weight: Weight | None = None

    @property
    def size(self) -> int:
        """Number of cells."""
        return len(self.drawn.length)

    @cached_property
    def law(self) -> Law:
        """Force over gap of a pair of coils."""
        return Law(self.pressing * self.pairs.share, self.width)

    @cached_property
    def rest_force(self) -> Array:
        """Forces of the pairs as drawn, ``(k,) N``."""
        if not len(self.pairs):
            return np.zeros(0)
        return self.law.at(self.pairs.gaps(self.drawn.R, self.drawn.p))

    @cached_property
    def rest_wrench(self) -> Array:
        """The wire's wrench as drawn, ``(n, 6)``."""
        return self.pairs.wrench(self.rest_force, self.drawn.R, self.drawn.p)

    def pressing_with(self, pressing: float) -> Rod:
        """Return the rod wound so that its coils press with another force, N, above zero.

        What they do to the drawn wire is proportional to it, and not found anew.
        """
        share, relief = pressing / self.pressing, self.relief
        other = replace(self, pressing=pressing)
        vars(other).update(
            rest_force=share * self.rest_force,
            rest_wrench=share * self.rest_wrench,
            relief=Strain(share * relief.middle, share * relief.slope),
        )
        return other

    def felt(self, force: Array) -> bool:
        """Return whether any place presses with a force, of ``(k PLACES,) N``, that is felt."""
        return bool(force.max(initial=0.0) > math.exp(-FELT) * self.law.scale)

    def pressed(self, force: Array, R: Array, p: Array) -> Array:
        """Return the wire's wrench by pressing forces (``Pairs.wrench``), if any is felt."""
        if not self.felt(force):
            return np.zeros((self.size, 6))
        return self.pairs.wrench(force, R, p)

    @property
    def tangent(self) -> Array:
        """Stiffness of the cells as they answer now, ``(n, 3)`` or ``(n, 6, 6) N mm²``."""
        return self.stiffness if self.answer is None else self.answer.stiffness

    @cached_property
    def relief(self) -> Strain:
        """Strain that the pressing coils put into the wire as drawn."""
        middle, slope = wrench_moments(self.drawn.length, self.drawn.strain, self.rest_wrench)
        full = self.drawn.length[:, None] * self.stiffness
        return Strain(middle / full, slope / full)

    @cached_property
    def natural(self) -> Strain:
        """Strain without any wrench, such that the drawn shape is at rest to rounding error."""
        if self.answer is not None:
            return self.answer.natural
        drawn, relief = self.drawn.strain, self.relief
        return Strain(drawn.middle - relief.middle, drawn.slope - relief.slope)


def stiffness(strain: Strain, wire_diameter: float, E: float, G: float) -> Array:
    """Return stiffness in torsion and in bending about y and z of each cell, ``(n, 3) N mm²``.

    As ``statics.energy`` takes it, by the curvature as drawn.
    """
    curvature = np.linalg.norm(strain.middle[:, 1:], axis=1)
    out = np.full((len(curvature), 3), round_wire.bending_stiffness(wire_diameter, E))
    out[:, 0] = round_wire.torsional_stiffness(wire_diameter, G, curvature)
    return out
