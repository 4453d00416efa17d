"""The loaded wire as a centreline again: labelled pieces, joints smooth, the wire's length kept."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from springgeo.curve import Arc, Frame, Helix, Line, Path, Piece, Segment
from springgeo.curve.frame import Array
from springgeo.curve.motion import Index, joined
from springgeo.curve.smooth_strain import MET, Ending, Runs
from springgeo.curve.strained import Strained
from springgeo.curve.stretch import stretch
from springgeo.equilibrium.cell import Strain, ends
from springgeo.equilibrium.natural import Drawn

# cells whose strain differs by less than this, as a share of the greatest, are one helix
_EQUAL = 1e-7
# of many states, every so many are drawn first
_EVERY = 10

# a strain, and which runs of it are one helix
Evened = tuple[Strain, list[bool]]
# of mean and slope of each cell
Correction = tuple[Array, Array]


@dataclass(frozen=True, eq=False)
class Pose:
    """Axes ``(3, 3)`` (tangent, normal, across) and position ``(3,) mm``."""

    R: Array
    p: Array

    def led(self, R: Array, p: Array) -> Pose:
        """Return the pose that is ``R``, ``p`` seen from this one."""
        return Pose(self.R @ R, self.p + self.R @ p)

    def carried(self, before: Pose) -> tuple[Array, Array]:
        """Return axes and origin of the motion that takes ``before`` to this pose."""
        axes = self.R @ before.R.T
        return axes, self.p - axes @ before.p


@dataclass(frozen=True, eq=False)
class Loaded:
    """The wire of a loaded spring.

    Attributes
    ----------
    path : Path
    a, b : (axes, origin)
        The motion of either grip from the drawn spring: what is rigid with it moves so.
    runs : tuple of Segment
        Between the contacts.
    """

    path: Path
    a: tuple[Array, Array]
    b: tuple[Array, Array]
    runs: tuple[Segment, ...] = ()


@dataclass(frozen=True, eq=False)
class Wire:
    """The drawn wire, as what is loaded of it: pieces between the contacts, and what is beyond.

    Attributes
    ----------
    path : Path
        As drawn. What lies beyond the contacts moves along as it is.
    cells : Drawn
    """

    path: Path
    cells: Drawn

    @cached_property
    def runs(self) -> list[slice]:
        """Cells of each piece."""
        return _runs(self.cells.piece)

    @cached_property
    def grips(self) -> tuple[Pose, Pose]:
        """The first and the last node as drawn."""
        s = self.cells.s
        return _drawn(self.path, float(s[0])), _drawn(self.path, float(s[-1]))

    def far_motions(
        self, strains: Sequence[Strain], firsts: Sequence[Pose]
    ) -> list[tuple[Array, Array]]:
        """Return the motions of B's grip from the drawn spring, as ``loaded`` but for its drift."""
        length = np.tile(self.cells.length, len(strains))
        strain = Strain(
            np.concatenate([x.middle for x in strains]), np.concatenate([x.slope for x in strains])
        )
        R, p = _led(length, strain, np.full(len(strains), len(self.cells.length)))
        far = self.grips[1]
        return [first.led(R[i], p[i]).carried(far) for i, first in enumerate(firsts)]

    def loaded(
        self,
        strains: Sequence[Strain],
        firsts: Sequence[Pose],
        near: Sequence[Loaded] | None = None,
        met: float = MET,
    ) -> list[Loaded]:
        """Return the wire in many states at once.

        Parameters
        ----------
        strains : sequence of Strain
            Of each cell; cells of nearly equal strain along a whole piece become one helix.
        firsts : sequence of Pose
            Of the first node.
        near : sequence of Loaded, optional
            The same wire in nearly the same states, to begin with.
        met : float
            What a smooth run may miss of its end, in rad and of its size; it moves the rest.
        """
        evened = [self._evened(strain) for strain in strains]
        if near is None:
            smooth = self._one_by_the_next(evened, met)
        else:
            smooth = self._smooth(evened, [_corrections(x) for x in near], met)
        return [
            self._drawn(strain, first, wire)
            for (strain, _), first, wire in zip(evened, firsts, smooth, strict=True)
        ]

    def _evened(self, strain: Strain) -> Evened:
        """Return a strain with runs of nearly equal strain made equal, and which those are."""
        even = Strain(strain.middle.copy(), strain.slope.copy())
        length = self.cells.length
        return even, [_evened(even.middle[r], even.slope[r], length[r]) for r in self.runs]

    def _one_by_the_next(self, evened: list[Evened], met: float) -> list[list[Ending | None]]:
        """Return the smooth wire of states that follow each other: some first, then the others.

        Those between two begin with corrections between theirs.
        """
        few = sorted({*range(0, len(evened), _EVERY), len(evened) - 1})
        none = [None] * len(self.runs)
        found = dict(
            zip(few, self._smooth([evened[i] for i in few], [none] * len(few), met), strict=True)
        )
        rest, begun = [], []
        for low, high in pairwise(few):
            for i in range(low + 1, high):
                share = (i - low) / (high - low)
                rest.append(i)
                begun.append(
                    [_blend(a, b, share) for a, b in zip(found[low], found[high], strict=True)]
                )
        others = self._smooth([evened[i] for i in rest], begun, met)
        found |= dict(zip(rest, others, strict=True))
        return [found[i] for i in range(len(evened))]

    def _smooth(
        self, evened: list[Evened], begun: Sequence[Sequence[Correction | None]], met: float
    ) -> list[list[Ending | None]]:
        """Return the smooth wire of each run in each state; None where it is one helix."""
        found: list[list[Ending | None]] = [[None] * len(self.runs) for _ in evened]
        uneven = [
            (i, k) for i, (_, whole) in enumerate(evened) for k, w in enumerate(whole) if not w
        ]
        if not uneven:
            return found
        runs = Runs.of([self.cells.length[self.runs[k]] for _, k in uneven])
        middle = np.concatenate([evened[i][0].middle[self.runs[k]] for i, k in uneven])
        slope = np.concatenate([evened[i][0].slope[self.runs[k]] for i, k in uneven])
        first = [begun[i][k] for i, k in uneven]
        for (i, k), ending in zip(
            uneven, Strained.endings(runs, middle, slope, first, met), strict=True
        ):
            found[i][k] = ending
        return found

    def _drawn(self, strain: Strain, first: Pose, smooth: list[Ending | None]) -> Loaded:
        pieces = []
        # each run begins where the one before ends: what a smooth one misses of its solved end
        # (short ones some 1e-7 rad) moves the rest
        at = first
        for run, ending in zip(self.runs, smooth, strict=True):
            drawn, length = self.path.pieces[self.cells.piece[run.start]], self.cells.length[run]
            middle, slope = strain.middle[run], strain.slope[run]
            segment: Segment
            if ending is None:
                segment = uniform(middle[0], float(length.sum()), at)
                R, p = _led(length, Strain(middle, slope), np.array([len(length)]))
                at = at.led(R[0], p[0])
            else:
                frame = Frame(at.p, at.R)
                segment = Strained(
                    frame=frame, cells=length, middle=middle, slope=slope, ending=ending
                )
                at = Pose(*segment.far_end)
            pieces.append(Piece(segment, drawn.label, drawn.role))
        s = self.cells.s
        a, b = first.carried(self.grips[0]), at.carried(self.grips[1])
        before = _rest(self.path, 0.0, float(s[0]), a)
        after = _rest(self.path, float(s[-1]), self.path.length, b)
        segments = tuple(p.segment for p in pieces)
        return Loaded(Path([*before, *pieces, *after]), a, b, segments)


def _led(length: Array, strain: Strain, count: Index) -> tuple[Array, Array]:
    """Return where runs of ``count`` cells each lead from their first nodes."""
    near, far = ends(length, strain)
    cell = near.then(far)
    return joined(cell.R, cell.p, count)


def _corrections(wire: Loaded) -> list[Correction | None]:
    return [x.ending.correction if isinstance(x, Strained) else None for x in wire.runs]


def _blend(a: Ending | None, b: Ending | None, share: float) -> Correction | None:
    """Return the corrections a share of the way from the one to the other."""
    if a is None or b is None:
        return None
    (m, s), (n, t) = a.correction, b.correction
    return m + share * (n - m), s + share * (t - s)


def uniform(bend: Array, length: float, at: Pose) -> Segment:
    """Return wire of constant strain ``bend`` ``(3,) 1/mm``: a line, an arc or a helix."""
    size = float(np.sqrt(bend @ bend))
    if size * length < 1e-9:
        return Line(frame=Frame(at.p, at.R), span=length)
    axis = bend / size
    along, across = float(axis[0]), math.hypot(float(axis[1]), float(axis[2]))
    if across < 1e-9:
        return Line(frame=Frame(at.p, at.R), span=length)
    # own axes: out from the helix's axis, round it, along it
    sign = math.copysign(1.0, along)
    z = sign * axis
    inward = np.array([0.0, axis[2], -axis[1]]) / across
    out = -inward
    radius = across / size
    frame = np.column_stack([out, np.cross(z, out) * sign, z])
    # a left-hand helix is a right-hand one in mirrored axes
    axes = at.R @ frame
    origin = at.p - at.R @ (radius * out)
    if abs(along) * length < 1e-12 * radius:
        return Arc(frame=Frame(origin, axes), radius=radius, angle=length * size)
    pitch = 2 * math.pi * abs(along) / size
    turn = math.hypot(2 * math.pi * radius, pitch)
    return Helix(frame=Frame(origin, axes), radius=radius, pitch=pitch, turns=length / turn)


def _drawn(path: Path, s: float) -> Pose:
    point, t, n = (x[0] for x in path.placed(np.array([s])))
    return Pose(np.column_stack([t, n, np.cross(t, n)]), point)


def _runs(piece: npt.NDArray[np.intp]) -> list[slice]:
    edges = [0, *(np.flatnonzero(np.diff(piece)) + 1).tolist(), len(piece)]
    return [slice(a, b) for a, b in pairwise(edges)]


def _evened(middle: Array, slope: Array, length: Array) -> bool:
    """Make nearly equal strain equal, in place, and return whether it is."""
    mean = length @ middle / length.sum()
    most = float(np.abs(mean).max()) + 1e-12 / float(length.sum())
    off = max(float(np.abs(middle - mean).max()), float(np.abs(slope).max()))
    if off > _EQUAL * most:
        return False
    middle[:], slope[:] = mean, 0.0
    return True


def _rest(path: Path, first: float, last: float, motion: tuple[Array, Array]) -> list[Piece]:
    """Return the drawn wire between two arc lengths, moved as a rigid body."""
    out = []
    for piece, start in path:
        low, high = max(first - start, 0.0), min(last - start, piece.segment.length)
        if high - low > 1e-9 * path.length:
            part = stretch(piece.segment, low, high)
            out.append(Piece(part.moved(*motion), piece.label, piece.role))
    return out
