"""The section of a bent wire that yields: stretch, shear, twist and bending together.

A fibre at ``(y, z)`` of wire with curvature has the length ``h = 1 − κ_z y + κ_y z`` per length
of the centreline, so that strains are greater on the inside of a bend (Winkler's beam; Wahl's for
torsion). Sections stay plane and do not warp; the round section's own warping under shear is left
out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.curve.motion import apply
from springgeo.overload.disc import Disc, disc, rim
from springgeo.overload.law import Law, returned

# a section that flows throughout is given this share of its elastic stiffness in the tangent
LEAST = 1e-4
_ROUNDS, _SETTLED = 40, 1e-10
# sections whose surface, at a few points, is nearer to its limit than this are asked
_SURELY = 0.97
# sections asked at a time: their fibres fit the cache, and BLAS keeps to one thread
_BLOCK = 16


@dataclass(frozen=True, eq=False)
class Sections:
    """Sections of one wire along its length, with what each fibre has flowed so far; mm, MPa.

    ``curvature`` (n, 2), as made, about y and z; ``plastic`` strains of the fibres and
    ``locked``, the residual stress of making, (n, f, 3); ``elastic`` (n, 6, 6), their stiffness
    before they yield; ``aside`` (n, 3), stretch and shears by which they differed from elastic
    sections when last asked: a start.
    """

    law: Law
    wire_diameter: float
    curvature: Array
    plastic: Array
    locked: Array
    elastic: Array
    aside: Array

    @classmethod
    def made(cls, law: Law, wire_diameter: float, curvature: Array) -> Sections:
        """Return sections that have not yielded and hold no residual stress."""
        none = np.zeros((len(curvature), len(disc(wire_diameter).area), 3))
        elastic = stiffness(law, wire_diameter, curvature)
        return cls(
            law, wire_diameter, curvature, none, none, elastic, np.zeros((len(curvature), 3))
        )

    def __len__(self) -> int:
        return len(self.curvature)

    @cached_property
    def _disc(self) -> Disc:
        return disc(self.wire_diameter)

    @cached_property
    def _shapes(self) -> Array:
        return self._disc.shapes

    @cached_property
    def _per_length(self) -> Array:
        return 1 / _height(self.curvature, self._disc)

    @cached_property
    def _stirred(self) -> npt.NDArray[np.bool_]:
        """Which sections have flowed, or hold residual stress."""
        held = np.maximum(np.abs(self.plastic), np.abs(self.locked))
        found: npt.NDArray[np.bool_] = held.reshape(len(self), -1).max(axis=1, initial=0.0) > 0.0
        return found

    def at(self, turn: Array, force: Array) -> Borne:
        """Return the sections at changes of twist and bends ``(n, 3) 1/mm`` from as made.

        ``force`` ``(n, 3) N`` is what they bear besides: pull along the wire, shear along y and z.
        """
        K = self.elastic
        strain = np.concatenate([stretch(K, turn, force), turn], axis=1)
        # the rest is elastic, and is not asked fibre by fibre
        asked = self._stirred | (self._share(strain, rim(self.wire_diameter, 24)) > _SURELY)
        borne = Borne(strain, apply(K, strain), K.copy(), self.plastic.copy(), self.aside.copy())
        rows = np.flatnonzero(asked)
        for first in range(0, len(rows), _BLOCK):
            some = rows[first : first + _BLOCK]
            start = strain[some]
            start[:, :3] += self.aside[some]
            part = self[some].settled(start, force[some])
            borne.aside[some] = part.strain[:, :3] - strain[some, :3]
            borne.strain[some], borne.wrench[some] = part.strain, part.wrench
            borne.tangent[some], borne.plastic[some] = part.tangent, part.plastic
        return borne

    def held(self) -> Array:
        """Return torque and moments that hold the sections at no strain, ``(n, 3) N mm``.

        Free of pull; they stand against what has flowed and the residual stress.
        """
        at, n = self._disc, len(self)
        held = (self.locked - self.law.moduli * self.plastic) * at.area[:, None]
        wrench = held.reshape(n, -1) @ self._shapes.reshape(-1, 6)
        K = self.elastic
        free = solved(K[:, :3, :3], wrench[:, :3, None])
        moments: Array = wrench[:, 3:] - (K[:, 3:, :3] @ free)[..., 0]
        return moments

    def __getitem__(self, which: npt.NDArray[np.intp]) -> Sections:
        """Return some of the sections."""
        return replace(
            self,
            curvature=self.curvature[which],
            plastic=self.plastic[which],
            locked=self.locked[which],
            elastic=self.elastic[which],
            aside=self.aside[which],
        )

    def settled(self, strain: Array, force: Array) -> Borne:
        """Return the sections, asked fibre by fibre, with stretch and shears to suit the forces."""
        scale = self.law.tension * self._disc.area.sum()
        least = LEAST * self.elastic[:, :3, :3]
        strain = strain.copy()
        for _ in range(_ROUNDS):
            borne = self.bear(strain)
            off = force - borne.wrench[:, :3]
            if float(np.abs(off).max(initial=0.0)) <= _SETTLED * scale:
                break
            tangent = borne.tangent[:, :3, :3] + least
            strain[:, :3] += solved(tangent, off[..., None])[..., 0]
        return borne

    def bear(self, strain: Array) -> Borne:
        """Return the sections at all six strains, ``(n, 6)``, fibre by fibre."""
        at, per, n = self._disc, self._per_length, len(strain)
        flat = self._shapes.reshape(-1, 6)
        local = (strain @ flat.T).reshape(n, -1, 3) * per[:, :, None]
        found = returned(self.law, local, self.plastic, self.locked)
        wrench = (found.stress * at.area[:, None]).reshape(n, -1) @ flat
        weight = at.area * per
        squares = (flat[:, :, None] * flat[:, None, :]).reshape(-1, 36)
        tangent = (found.stiffness * weight[:, :, None]).reshape(n, -1) @ squares
        v = found.along * np.sqrt(weight / found.size)[:, :, None]
        axial, y, z = v[..., 0], v[..., 1], v[..., 2]
        along = np.stack([axial, y, z, z * at.y - y * at.z, axial * at.z, -axial * at.y], axis=1)
        tangent = tangent.reshape(n, 6, 6) - along @ along.transpose(0, 2, 1)
        return Borne(strain, wrench, tangent, found.plastic, np.zeros((n, 3)), found.stress)

    def kept(self, borne: Borne) -> Sections:
        """Return the sections after they have flowed as in ``borne``."""
        return replace(self, plastic=borne.plastic, aside=borne.aside)

    def share(self, turn: Array, force: Array) -> Array:
        """Return how near the sections, elastic, are to yielding, ``(n,)``: one at the limit."""
        strain = np.concatenate([stretch(self.elastic, turn, force), turn], axis=1)
        return self._share(strain, rim(self.wire_diameter))

    def _share(self, strain: Array, at: Disc) -> Array:
        local = (strain @ at.shapes.reshape(-1, 6).T).reshape(len(strain), -1, 3)
        local = local / _height(self.curvature, at)[:, :, None]
        greatest: Array = self.law.share(self.law.moduli * local).max(axis=1)
        return greatest


@dataclass(frozen=True, eq=False)
class Borne:
    """Sections under a strain.

    Attributes
    ----------
    strain : (n, 6) float
        Stretch, shears, twist and bends (1/mm).
    wrench : (n, 6) float, N and N mm
        Pull, shears, torque, moments.
    tangent : (n, 6, 6) float
    plastic : (n, f, 3) float
        Plastic strains of the fibres.
    aside : (n, 3) float
        Stretch and shears beyond those of elastic sections.
    stress : (n, f, 3) float, MPa
        Where asked fibre by fibre.
    """

    strain: Array
    wrench: Array
    tangent: Array
    plastic: Array
    aside: Array
    stress: Array | None = None

    @property
    def moments(self) -> Array:
        """Torque and bending moments, ``(n, 3) N mm``."""
        return self.wrench[:, 3:]

    def bending_tangent(self, least: Array) -> Array:
        """Return the slope of the moments over twist and bends at fixed forces, ``(n, 3, 3)``.

        ``least`` ``(n, 6, 6)`` is added so that it never vanishes.
        """
        return bending(self.tangent + least)


def _height(curvature: Array, at: Disc) -> Array:
    """Return how long fibres are, over the centreline, ``(n, f)``."""
    height: Array = 1 - curvature[:, 1:] * at.y + curvature[:, :1] * at.z
    return height


def stiffness(law: Law, wire_diameter: float, curvature: Array) -> Array:
    """Return the stiffness ``(n, 6, 6)`` of sections of bent wire that do not yield."""
    # along a body most are alike
    _, first, of = np.unique(
        np.round(curvature * wire_diameter, 10), axis=0, return_index=True, return_inverse=True
    )
    at = disc(wire_diameter)
    weight = (at.area / _height(curvature[first], at))[:, :, None] * law.moduli
    found: Array = np.einsum("nfi,fia,fib->nab", weight, at.shapes, at.shapes, optimize=True)
    return found[of.ravel()]


def stretch(K: Array, turn: Array, force: Array) -> Array:
    """Return stretch and shears ``(n, 3)`` of elastic sections of stiffness ``K``."""
    own = force - apply(K[:, :3, 3:], turn)
    return solved(K[:, :3, :3], own[..., None])[..., 0]


def bending(K: Array) -> Array:
    """Return the stiffness against twist and bends with stretch and shear free, ``(n, 3, 3)``."""
    found: Array = K[:, 3:, 3:] - K[:, 3:, :3] @ solved(K[:, :3, :3], K[:, :3, 3:])
    return found


def solved(matrix: Array, right: Array) -> Array:
    """Return the solutions of small systems ``(n, k, k)`` and right-hand sides ``(n, k, m)``."""
    found: Array = np.asarray(np.linalg.solve(matrix, right), dtype=float)
    return found
