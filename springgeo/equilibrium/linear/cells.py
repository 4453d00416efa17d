"""Cells of wire linearised about a trial state."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.entries import (
    across,
    applied,
    entries,
    inverse,
    many,
    product,
    rotation_vector,
    solved,
    turned,
    turning,
)
from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import ArcEnds
from springgeo.curve.motion import apply, transposed
from springgeo.curve.smooth_strain import SPREAD
from springgeo.equilibrium.arc import Arcs, carried, moment_slopes
from springgeo.equilibrium.cell import Strain


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
    give : (3, n) float, mm/N
        Stretch, and way across the wire, per change of force that one iteration allows; it has no
        share in the result.
    """
    cells = _Cells(length, strain, wrench)
    own, off = cells.stiffness(stiffness, natural)
    moved = cells.moved
    known = np.concatenate([turned(moved), -off[:, None]], axis=1)
    found = solved(own, known)
    answer, loose = found[:, :6], found[:, 6]
    flexibility = product(moved, answer)
    across_and_along = np.arange(3)
    flexibility[across_and_along, across_and_along] += give
    R, p = entries(relative.R), entries(relative.p)
    error = cells.gap(R, p) - applied(moved, loose)
    stiff = inverse(flexibility)
    to_near = np.zeros((6, 6, len(length)))
    to_near[:3, :3] = to_near[3:, 3:] = R
    to_near[3:, :3] = across(p, R)
    return Linear(
        wrench,
        many(carried(R, p, cells.far)),
        many(stiff),
        many(to_near),
        many(applied(stiff, error)),
        many(answer),
        many(loose),
    )


class _Cells:
    """Cells of a strain with a wrench on their far ends, entry by entry."""

    def __init__(self, length: Array, strain: Strain, wrench: Array) -> None:
        n = len(length)
        half = np.concatenate([length, length]) / 2
        self.length, self.far = length, entries(wrench)
        self.middle, self.slope = entries(strain.middle), entries(strain.slope)
        spread = SPREAD * self.slope
        bend = np.concatenate([self.middle - spread, self.middle + spread], axis=1)
        arcs = Arcs.of(half, bend)
        self.first, self.last = arcs.halves()
        # what acts on the far end of either arc
        on_both = np.concatenate([self.last.carried(self.far), self.far], axis=1)
        work, by_bend = arcs.moments(on_both), moment_slopes(half, bend, on_both)
        self.work, self.by_bend = (work[:, :n], work[:, n:]), (by_bend[..., :n], by_bend[..., n:])
        # how the bend of either arc moves the cell's far end
        first, back = self.first.slopes, turned(self.last.R)
        moved = first[:3] - across(self.last.p, first[3:])
        early = np.concatenate([product(back, moved), product(back, first[3:])])
        late = self.last.slopes
        self.ways = early, late
        self.moved = np.concatenate([early + late, SPREAD * (late - early)], axis=1)

    def stiffness(self, own: Array, natural: Strain) -> tuple[Array, Array]:
        """Return change and amount of the moments out of balance, per change of the strain."""
        (za, zb), (ha, hb), (early, late) = self.work, self.by_bend, self.ways
        away = np.concatenate(
            [self.middle - entries(natural.middle), self.slope - entries(natural.slope)]
        )
        if own.ndim == 3:
            out = self.length * entries(own)
            off = applied(out, away)
        else:
            of_all, diagonal = np.tile(self.length * entries(own), (2, 1)), np.arange(6)
            out, off = np.zeros((6, 6, len(self.length))), of_all * away
            out[diagonal, diagonal] = of_all
        off[:3] -= za + zb
        off[3:] -= SPREAD * (zb - za)
        # what the moments change by when the arcs do
        both, apart = hb + ha, hb - ha
        mixed = product(turned(early), turning(self.far, late))
        out[:3, :3] -= both - mixed
        out[:3, 3:] -= SPREAD * (apart - mixed)
        out[3:, :3] -= SPREAD * (apart + mixed)
        out[3:, 3:] -= SPREAD**2 * (both + mixed)
        return out, off

    def gap(self, R: Array, p: Array) -> Array:
        """Return the twist ``(6, n)`` from where the strain puts the far end to the pose (R, p)."""
        a, b = self.first, self.last
        back = turned(product(a.R, b.R))
        moved = applied(back, p - a.p - applied(a.R, b.p))
        return np.concatenate([moved, rotation_vector(product(back, R))])
