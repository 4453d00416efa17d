"""A run of loaded wire: cells whose bending and twist vary linearly along them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.curve.helix_arc import ArcEnds, arc_ends
from springgeo.curve.motion import apply, chained
from springgeo.curve.segment import Segment

# the two arcs of a cell differ by this times the strain's difference between its Gauss points:
# then the cell's far end is that of the linear strain to fourth order
SPREAD = 2 / math.sqrt(3)


@dataclass(frozen=True, eq=False, kw_only=True)
class Strained(Segment):
    """From the local origin along local +x, one cell after the other, two helix arcs to a cell.

    Position and tangent follow the arcs, so that joints are smooth and the wire's length is the
    sum of the cells'. Curvature is that of the linear strain, of which the arcs are steps.

    Attributes
    ----------
    cells : (n,) float, mm
        Lengths.
    middle, slope : (n, 3) float, 1/mm
        Mean rate of turning in the wire's own axes (twist, curvature about y, about z), and half
        its difference between the cell's two Gauss points.
    """

    cells: Array
    middle: Array
    slope: Array

    @cached_property
    def _arcs(self) -> tuple[Array, Array]:
        """Length and bend of all arcs, ``(2 n,)`` and ``(2 n, 3)``."""
        spread = SPREAD * self.slope
        bend = np.stack([self.middle - spread, self.middle + spread], axis=1)
        return np.repeat(self.cells / 2, 2), bend.reshape(-1, 3)

    @cached_property
    def _nodes(self) -> tuple[Array, Array, Array]:
        """Arc lengths, axes and positions where the arcs start and end."""
        length, bend = self._arcs
        ends = arc_ends(length, bend)
        R, p = chained(ends.R, ends.p)
        s = np.concatenate([[0.0], np.cumsum(length)])
        return (
            s,
            np.concatenate([np.eye(3)[None], R]),
            np.concatenate([np.zeros((1, 3)), p]),
        )

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return float(self.cells.sum())

    def _pose(self, s: Array) -> ArcEnds:
        starts, R, p = self._nodes
        i = self._arc_of(s)
        part = arc_ends(s - starts[i], self._arcs[1][i])
        return ArcEnds(R[i], p[i]).then(part)

    def _arc_of(self, s: Array) -> npt.NDArray[np.intp]:
        i = np.searchsorted(self._nodes[0], s, side="right") - 1
        return np.clip(i, 0, 2 * len(self.cells) - 1)

    def _strain(self, s: Array) -> Array:
        cell = self._arc_of(s) // 2
        off = (s - self._nodes[0][2 * cell]) / self.cells[cell] - 0.5
        strain: Array = self.middle[cell] + 2 * math.sqrt(3) * off[:, None] * self.slope[cell]
        return strain

    def _point(self, s: Array) -> Array:
        return self._pose(s).p

    def _tangent(self, s: Array) -> Array:
        return self._pose(s).R[:, :, 0]

    def _normal(self, s: Array) -> Array:
        return self._pose(s).R[:, :, 1]

    def _curvature(self, s: Array) -> Array:
        bend = self._strain(s)
        across = np.stack([np.zeros(len(s)), bend[:, 2], -bend[:, 1]], axis=1)
        return apply(self._pose(s).R, across)

    @property
    def max_curvature(self) -> float:
        """Greatest curvature, 1/mm, at the ends of the cells."""
        most = np.abs(self.middle) + math.sqrt(3) * np.abs(self.slope)
        return float(np.hypot(most[:, 1], most[:, 2]).max())
