"""A run of loaded wire: its bending and twist smooth along it, its length the cells'."""

from __future__ import annotations

import math
from abc import abstractmethod
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby, pairwise
from typing import Self

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array, Frame
from springgeo.curve.kinds.helix_arc import ArcEnds
from springgeo.curve.motion import apply, joined
from springgeo.curve.segment import ALL, Segment, Trace
from springgeo.curve.smooth_strain import (
    MET,
    STEPS,
    Ending,
    Runs,
    SmoothStrain,
    endings,
    two_arcs,
)


@dataclass(frozen=True, eq=False)
class Followed:
    """Wire that follows a smooth strain, known at the steps of its cells.

    Attributes
    ----------
    starts : (n + 1,) float, mm
        Arc lengths of the nodes between the cells.
    strain : SmoothStrain
    begin : ArcEnds
        Axes and position at the start of every step, ``STEPS`` to a cell.
    """

    starts: Array
    strain: SmoothStrain
    begin: ArcEnds

    def place(self, s: Array) -> tuple[npt.NDArray[np.intp], Array]:
        """Return the cell of each arc length, and which share of it lies before."""
        i = np.searchsorted(self.starts, s, side="right") - 1
        i = np.minimum(np.maximum(i, 0), len(self.starts) - 2)
        return i, (s - self.starts[i]) / self.strain.cells[i]

    def pose(self, cell: npt.NDArray[np.intp], u: Array) -> ArcEnds:
        """Return axes and position at the share ``u`` of cells."""
        k = np.minimum(np.maximum((u * STEPS).astype(int), 0), STEPS - 1)
        part = self.strain.step(cell, k / STEPS, (u - k / STEPS) * self.strain.cells[cell])
        at = cell * STEPS + k
        return ArcEnds(self.begin.R[at], self.begin.p[at]).then(part)


@dataclass(frozen=True, eq=False, kw_only=True)
class Following(Segment):
    """Wire that follows a smooth strain."""

    @property
    @abstractmethod
    def followed(self) -> Followed:
        """The wire from step to step, in its own axes."""

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return float(self.followed.starts[-1])

    def _pose(self, s: Array) -> ArcEnds:
        return self.followed.pose(*self.followed.place(s))

    def placed(self, s: Array) -> tuple[Array, Array, Array]:
        """Return positions, unit tangents and normals at once."""
        at, turn = self._pose(self._own(s)), self.frame.turn
        t = turn(at.R[:, :, 0])
        return self.frame.to_world(at.p), -t if self.backward else t, turn(at.R[:, :, 1])

    def traced(self, s: Array, names: Sequence[Trace] = ALL) -> tuple[Array, ...]:
        """Return positions, unit tangents and curvature vectors: the wire is followed once."""
        cell, u = self.followed.place(self._own(s))
        at, found = self.followed.pose(cell, u), []
        for name in names:
            if name == "point":
                found.append(self.frame.to_world(at.p))
            elif name == "tangent":
                t = self.frame.turn(at.R[:, :, 0])
                found.append(-t if self.backward else t)
            else:
                found.append(self.frame.turn(self._bent(at, cell, u)))
        return tuple(found)

    def _point(self, s: Array) -> Array:
        return self._pose(s).p

    def _tangent(self, s: Array) -> Array:
        return self._pose(s).R[:, :, 0]

    def _normal(self, s: Array) -> Array:
        return self._pose(s).R[:, :, 1]

    def _curvature(self, s: Array) -> Array:
        cell, u = self.followed.place(s)
        return self._bent(self.followed.pose(cell, u), cell, u)

    def _bent(self, at: ArcEnds, cell: npt.NDArray[np.intp], u: Array) -> Array:
        bend = self.followed.strain.at(cell, u)
        across = np.stack([np.zeros(len(u)), bend[:, 2], -bend[:, 1]], axis=1)
        return apply(at.R, across)


@dataclass(frozen=True, eq=False, kw_only=True)
class Strained(Following):
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

    @cached_property
    def followed(self) -> Followed:
        """The wire from step to step, in its own axes."""
        starts = np.concatenate([[0.0], np.cumsum(self.cells)])
        wire = self.ending.wire
        return Followed(starts, self.ending.strain, ArcEnds(wire.R[:-1], wire.p[:-1]))

    @cached_property
    def steps(self) -> tuple[Array, Array, Array]:
        """Arc lengths ``(k,) mm`` of the steps' ends, and positions and tangents ``(k, 3)`` there.

        Known without following the wire.
        """
        nodes, share = self.followed.starts, np.arange(STEPS) / STEPS
        s = np.append((nodes[:-1, None] + self.cells[:, None] * share).ravel(), nodes[-1])
        wire = self.ending.wire
        point, tangent = self.frame.to_world(wire.p), self.frame.turn(wire.R[:, :, 0])
        if self.backward:
            return self.length - s[::-1], point[::-1], -tangent[::-1]
        return s, point, tangent

    @property
    def far_end(self) -> tuple[Array, Array]:
        """Axes ``(3, 3)`` (tangent, normal, across) and position ``(3,) mm`` where the run ends."""
        axes = self.frame.axes
        return axes @ self.ending.wire.R[-1], self.frame.origin + axes @ self.ending.wire.p[-1]

    @property
    def max_curvature(self) -> float:
        """Greatest curvature, 1/mm, at the ends of the cells."""
        most = np.abs(self.middle) + math.sqrt(3) * np.abs(self.slope)
        return float(np.hypot(most[:, 1], most[:, 2]).max())


@dataclass(frozen=True, eq=False, kw_only=True)
class Chain(Following):
    """Runs of loaded wire one after the other, none backward, that answer together.

    ``starts`` ``(runs + 1,) mm`` says from where to where each goes: at a joint the later answers.
    """

    runs: tuple[Strained, ...]
    starts: Array

    @cached_property
    def followed(self) -> Followed:
        """The wire from step to step, in its own axes."""
        each = [x.followed for x in self.runs]
        cells = np.concatenate([x.strain.cells for x in each])

        def whole(of: Callable[[SmoothStrain], Array]) -> Array:
            return np.concatenate([of(x.strain) for x in each])

        strain = SmoothStrain(
            cells,
            (whole(lambda x: x.value[0]), whole(lambda x: x.value[1])),
            (whole(lambda x: x.slope[0]), whole(lambda x: x.slope[1])),
        )
        frames = [x.frame for x in self.runs]
        begin = ArcEnds(
            np.concatenate([f.axes @ x.begin.R for f, x in zip(frames, each, strict=True)]),
            np.concatenate([f.to_world(x.begin.p) for f, x in zip(frames, each, strict=True)]),
        )
        nodes = [a + x.starts[:-1] for a, x in zip(self.starts[:-1], each, strict=True)]
        return Followed(np.concatenate([*nodes, self.starts[-1:]]), strain, begin)


def chains(
    segments: Sequence[Segment], starts: Array
) -> tuple[tuple[Segment, ...], npt.NDArray[np.intp]]:
    """Return segments in order, neighbouring runs of loaded wire as one, and the first of each.

    ``starts`` are those of the segments and the end of the last, mm.
    """
    out: list[Segment] = []
    first: list[int] = []
    for together, part in groupby(enumerate(segments), lambda x: _forward_run(x[1])):
        index, found = zip(*part, strict=True)
        if together and len(index) > 1:
            at = starts[index[0] : index[-1] + 2]
            out.append(Chain(runs=found, starts=at - at[0]))
            first.append(index[0])
        else:
            out.extend(found)
            first.extend(index)
    return tuple(out), np.array(first, dtype=np.intp)


def _forward_run(segment: Segment) -> bool:
    return isinstance(segment, Strained) and not segment.backward
