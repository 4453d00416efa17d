"""Where a step of the iteration takes the nodes of a rod."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array, unit
from springgeo.curve.motion import apply, orthonormal, screws
from springgeo.equilibrium.cell import Strain, ends
from springgeo.equilibrium.hung import to_z
from springgeo.equilibrium.natural import placed
from springgeo.equilibrium.rod import Rod


def by_twists(R: Array, p: Array, twist: Array) -> tuple[Array, Array]:
    """Return the poses of nodes that move by twists ``(n, 6)``, each in its axes."""
    turn, aside = twist[:, 3:], twist[:, :3]
    turned, way = screws(turn, aside)
    return orthonormal(R @ turned), p + apply(R, way)


def by_strain(rod: Rod, first: Array, strain: Strain) -> tuple[Array, Array]:
    """Return the poses of nodes one cell after the other, both points of pull on the z-axis.

    ``first`` are the axes of the first node, but for the turn that takes the points there. A
    long spring that is drawn far turns its end round by many turns while no cell bends by much:
    twists of the nodes say little there, strains all.
    """
    near, far = ends(rod.drawn.length, strain)
    R, p = placed(first, np.zeros(3), near.then(far))
    at = rod.supports
    start, end = at.a.point(R[0], p[0]), at.b.point(R[-1], p[-1])
    turn = to_z(unit(end - start))
    return orthonormal(turn @ R), (p - start) @ turn.T
