"""A run of loaded wire: its bending and twist smooth along it, its length the cells'."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Self

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array, Frame
from springgeo.curve.kinds.helix_arc import ArcEnds
from springgeo.curve.motion import apply, joined
from springgeo.curve.segment import Segment
from springgeo.curve.smooth_strain import MET, STEPS, Ending, Runs, endings, two_arcs


@dataclass(frozen=True, eq=False, kw_only=True)
class Strained(Segment):
    """From the local origin along local +x, one cell after the other.

    The run ends where two helix arcs to a cell lead, each with half of the cell's linear strain:
    where it was solved to end. On the way there the wire follows a smooth strain through the same
    Gauss points, changed by the little that makes it meet that end (1e-7 rad is let go where the
    run is too short to be bent so).

    Attributes
    ----------
    cells : (n,) float, mm
        Lengths.
    middle, slope : (n, 3) float, 1/mm
        Mean rate of turning in the wire's own axes (twist, curvature about y, about z), and half
        its difference between the cell's two Gauss points.
    ending : Ending
        The smooth strain and the wire that follows it, from the local origin.
    """

    cells: Array
    middle: Array
    slope: Array
    ending: Ending

    @classmethod
    def endings(
        cls,
        runs: Runs,
        middle: Array,
        slope: Array,
        begun: Sequence[tuple[Array, Array] | None],
        met: float = MET,
    ) -> list[Ending]:
        """Return the wires of runs of cells.

        ``begun`` are corrections of runs of nearly the same strain, where known; ``met`` is what
        may be missed of their ends, in rad and of their size.
        """
        near, far = two_arcs(runs.cells, middle, slope)
        cell = near.then(far)
        end = ArcEnds(*joined(cell.R, cell.p, runs.count))
        first = np.zeros((2, *middle.shape))
        for at, known in zip(pairwise(runs.start.tolist()), begun, strict=True):
            if known is not None:
                first[:, slice(*at)] = known
        return endings(runs, end, middle, slope, (first[0], first[1]), met)

    @classmethod
    def of(cls, frame: Frame, cells: Array, middle: Array, slope: Array) -> Self:
        """Return the run of cells."""
        ending = cls.endings(Runs.of([cells]), middle, slope, [None])[0]
        return cls(frame=frame, cells=cells, middle=middle, slope=slope, ending=ending)

    @property
    def far_end(self) -> tuple[Array, Array]:
        """Axes ``(3, 3)`` (tangent, normal, across) and position ``(3,) mm`` where the run ends."""
        axes = self.frame.axes
        return axes @ self.ending.wire.R[-1], self.frame.origin + axes @ self.ending.wire.p[-1]

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return float(self.cells.sum())

    @cached_property
    def _starts(self) -> Array:
        return np.concatenate([[0.0], np.cumsum(self.cells)])

    def _place(self, s: Array) -> tuple[npt.NDArray[np.intp], Array]:
        """Return the cell of each arc length, and which share of it lies before."""
        i = np.clip(np.searchsorted(self._starts, s, side="right") - 1, 0, len(self.cells) - 1)
        return i, (s - self._starts[i]) / self.cells[i]

    def _pose(self, s: Array) -> ArcEnds:
        cell, u = self._place(s)
        k = np.clip((u * STEPS).astype(int), 0, STEPS - 1)
        part = self.ending.strain.step(cell, k / STEPS, (u - k / STEPS) * self.cells[cell])
        at = cell * STEPS + k
        return ArcEnds(self.ending.wire.R[at], self.ending.wire.p[at]).then(part)

    def placed(self, s: Array) -> tuple[Array, Array, Array]:
        """Return positions, unit tangents and normals at once."""
        at, turn = self._pose(self._own(s)), self.frame.turn
        t = turn(at.R[:, :, 0])
        return self.frame.to_world(at.p), -t if self.backward else t, turn(at.R[:, :, 1])

    def _point(self, s: Array) -> Array:
        return self._pose(s).p

    def _tangent(self, s: Array) -> Array:
        return self._pose(s).R[:, :, 0]

    def _normal(self, s: Array) -> Array:
        return self._pose(s).R[:, :, 1]

    def _curvature(self, s: Array) -> Array:
        bend = self.ending.strain.at(*self._place(s))
        across = np.stack([np.zeros(len(s)), bend[:, 2], -bend[:, 1]], axis=1)
        return apply(self._pose(s).R, across)

    @property
    def max_curvature(self) -> float:
        """Greatest curvature, 1/mm, at the ends of the cells."""
        most = np.abs(self.middle) + math.sqrt(3) * np.abs(self.slope)
        return float(np.hypot(most[:, 1], most[:, 2]).max())
