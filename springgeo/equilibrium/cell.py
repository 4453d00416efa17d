"""A cell of wire: strain varies linearly over it, its shape is two arcs.

The strain ω (twist, then curvature about the two axes across) has the mean ``middle`` and takes
``middle ∓ slope`` at the two Gauss points, where the energy is summed. The shape is the product
of two arcs of half the length with ``middle ∓ β slope``, β = 2/√3, whose commutator agrees with
that of the fourth-order Magnus expansion of the linear strain: the pose of the far end is good
to h⁵, exact for a uniform helix, and the wire keeps its length whatever happens.
"""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.curve.entries import entries, many
from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import ArcEnds, arc_ends
from springgeo.curve.smooth_strain import SPREAD
from springgeo.equilibrium.arc import Arcs


@dataclass(frozen=True, eq=False)
class Strain:
    """Mean strain and half its difference between the Gauss points, each ``(n, 3) 1/mm``."""

    middle: Array
    slope: Array

    @property
    def halves(self) -> tuple[Array, Array]:
        """Strain of the two arcs."""
        return self.middle - SPREAD * self.slope, self.middle + SPREAD * self.slope

    @property
    def points(self) -> tuple[Array, Array]:
        """Strain at the two Gauss points."""
        return self.middle - self.slope, self.middle + self.slope


def ends(length: Array, strain: Strain) -> tuple[ArcEnds, ArcEnds]:
    """Return the far ends of both arcs of cells of ``length`` ``(n,) mm``."""
    first, last = strain.halves
    return arc_ends(length / 2, first), arc_ends(length / 2, last)


def wrench_moments(length: Array, strain: Strain, wrench: Array) -> tuple[Array, Array]:
    """Return the generalised moments that a wrench on the far end does work with.

    Parameters
    ----------
    length : (n,) float, mm
    strain : Strain
    wrench : (n, 6) float, N and N mm
        In the far end's axes.

    Returns
    -------
    (n, 3), (n, 3) float, N mm²
        Conjugate to ``middle`` and ``slope``.
    """
    first, last = (Arcs.of(length / 2, entries(x)) for x in strain.halves)
    far = entries(wrench)
    za, zb = first.moments(last.carried(far)), last.moments(far)
    return many(za + zb), SPREAD * many(zb - za)
