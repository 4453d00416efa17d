"""Where a step of the iteration takes the nodes of a rod."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array, unit
from springgeo.curve.motion import apply, cross, orthonormal, rotation
from springgeo.equilibrium.cell import Strain, ends
from springgeo.equilibrium.hung import to_z
from springgeo.equilibrium.natural import placed
from springgeo.equilibrium.rod import Rod


def by_twists(R: Array, p: Array, twist: Array) -> tuple[Array, Array]:
    """Return the poses of nodes that move by twists ``(n, 6)``, each in its axes."""
    turn, aside = twist[:, 3:], twist[:, :3]
    # the screw of a twist, to second order in the turn: rigid motions stay rigid
    return orthonormal(R @ rotation(turn)), p + apply(R, _screwed(turn, aside))


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


def _screwed(turn: Array, v: Array) -> Array:
    """Return the way a point goes when it moves by ``v`` while its axes turn, ``(n, 3)``."""
    angle2 = np.sum(turn * turn, axis=1)[:, None]
    angle = np.sqrt(angle2)
    half = np.sinc(angle / (2 * np.pi)) ** 2 / 2
    with np.errstate(invalid="ignore", divide="ignore"):
        third = np.where(angle > 1e-3, (1 - np.sinc(angle / np.pi)) / angle2, 1 / 6 - angle2 / 120)
    once = cross(turn, v)
    result: Array = v + half * once + third * cross(turn, once)
    return result
