"""A cell of wire: strain varies linearly over it, its shape is two arcs.

The strain ω (twist, then curvature about the two axes across) has the mean ``middle`` and takes
``middle ∓ slope`` at the two Gauss points, where the energy is summed. The shape is the product
of two arcs of half the length with ``middle ∓ β slope``, β = 2/√3, whose commutator agrees with
that of the fourth-order Magnus expansion of the linear strain: the pose of the far end is good
to h⁵, exact for a uniform helix, and the wire keeps its length whatever happens.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import ArcEnds, arc_ends
from springgeo.curve.motion import (
    adjoint_inverse,
    apply,
    carried,
    rotation_vector,
    transposed,
    turning,
)
from springgeo.curve.smooth_strain import SPREAD
from springgeo.equilibrium.arc import moment_slopes, moments, with_slopes


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
    half, (first, last) = length / 2, strain.halves
    _, ja = with_slopes(half, first)
    b, jb = with_slopes(half, last)
    za = moments(ja, carried(b.R, b.p, wrench))
    zb = moments(jb, wrench)
    return za + zb, SPREAD * (zb - za)


@dataclass(frozen=True, eq=False)
class Linear:
    """Cells linearised about a trial state: what the assembly needs.

    Attributes
    ----------
    far, near : (n, 6) float
        Wrench that acts on the wire before the far end, and the same carried to the near end;
        each in the axes of its node.
    stiffness : (n, 6, 6) float
        Change of the far wrench per twist of the far end.
    to_near : (n, 6, 6) float
        Ad(G⁻¹)ᵀ: a wrench at the far end to the near one.
    missing : (n, 6) float
        Far wrench that would close what the poses lack to the strain's shape.
    """

    far: Array
    near: Array
    stiffness: Array
    to_near: Array
    missing: Array
    _answer: Array
    _loose: Array

    def wrench_step(self, near: Array, far: Array) -> Array:
        """Return the change of the far wrench when the nodes move by twists ``(n, 6)``."""
        apart = far - apply(transposed(self.to_near), near)
        return self.missing + apply(self.stiffness, apart)

    def strain_step(self, wrench_step: Array) -> tuple[Array, Array]:
        """Return the change of mean strain and slope."""
        step = self._loose + apply(self._answer, wrench_step)
        return step[:, :3], step[:, 3:]

    def strain_rate(self, wrench_rate: Array) -> tuple[Array, Array]:
        """Return the change of mean strain and slope that goes with one of the wrench alone."""
        step = apply(self._answer, wrench_rate)
        return step[:, :3], step[:, 3:]


def linearised(
    length: Array,
    stiffness: Array,
    natural: Strain,
    strain: Strain,
    wrench: Array,
    relative: ArcEnds,
    give: Array,
) -> Linear:
    """Return the cells linearised.

    Parameters
    ----------
    length : (n,) float, mm
    stiffness : (n, 3) or (n, 6, 6) float, N mm²
        Of torsion and of bending about both axes; or of all six numbers of the strain, mean and
        slope, where the Gauss points answer differently.
    natural, strain : Strain
    wrench : (n, 6) float
        At the far end.
    relative : ArcEnds
        Pose of the far node seen from the near one.
    give : (n,) float, mm/N
        Stretch per change of force that one iteration allows; it has no share in the result.
    """
    n, half, both = len(length), np.tile(length / 2, 2), np.concatenate(strain.halves)
    arcs, slopes = with_slopes(half, both)
    (a, b), ja, jb = arcs.halves(), slopes[:n], slopes[n:]
    at_middle = carried(b.R, b.p, wrench)
    back = adjoint_inverse(b.R, b.p)
    ja_far = back @ ja
    za, zb = moments(ja, at_middle), moments(jb, wrench)
    full = _of_all(stiffness) * length[:, None, None]
    away = np.concatenate([strain.middle - natural.middle, strain.slope - natural.slope], axis=1)
    off = apply(full, away) - np.concatenate([za + zb, SPREAD * (zb - za)], axis=1)
    # what the moments change by when the arcs do
    h = moment_slopes(half, both, np.concatenate([at_middle, wrench]))
    ha, hb = h[:n], h[n:]
    hab = -transposed(ja_far) @ turning(wrench) @ jb
    own = full.copy()
    own[:, :3, :3] -= ha + hab + hb
    own[:, :3, 3:] -= SPREAD * (hab + hb - ha)
    own[:, 3:, :3] -= SPREAD * (hb - ha - hab)
    own[:, 3:, 3:] -= SPREAD**2 * (hb - hab + ha)
    J = np.empty((n, 6, 6))
    J[:, :, :3] = ja_far + jb
    J[:, :, 3:] = SPREAD * (jb - ja_far)
    known = np.empty((n, 6, 7))
    known[:, :, :6], known[:, :, 6] = transposed(J), -off
    solved = np.asarray(np.linalg.solve(own, known), dtype=float)
    answer, loose = solved[:, :, :6], solved[:, :, 6]
    flexibility = J @ answer
    flexibility[:, 0, 0] += give
    closed = a.then(b)
    error: Array = gap(closed, relative) - apply(J, loose)
    stiff = np.asarray(np.linalg.inv(flexibility), dtype=float)
    to_near = transposed(adjoint_inverse(relative.R, relative.p))
    return Linear(
        wrench,
        carried(relative.R, relative.p, wrench),
        stiff,
        to_near,
        apply(stiff, error),
        answer,
        loose,
    )


def _of_all(stiffness: Array) -> Array:
    if stiffness.ndim == 3:
        return stiffness
    full = np.zeros((len(stiffness), 6, 6))
    diagonal = np.arange(6)
    full[:, diagonal, diagonal] = np.tile(stiffness, 2)
    return full


def gap(closed: ArcEnds, relative: ArcEnds) -> Array:
    """Return the twist ``(n, 6)`` from where the strain puts the far end to where it is."""
    back = transposed(closed.R)
    turned = rotation_vector(back @ relative.R)
    moved = apply(back, relative.p - closed.p)
    return np.concatenate([moved, turned], axis=1)
