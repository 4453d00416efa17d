"""The loaded wire as a centreline again: labelled pieces, joints smooth, the wire's length kept."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from springgeo.curve import Arc, Frame, Helix, Line, Path, Piece, Segment
from springgeo.curve.frame import Array
from springgeo.curve.helix_arc import arc_ends
from springgeo.curve.motion import chained
from springgeo.curve.smooth_strain import SPREAD
from springgeo.curve.strained import Strained
from springgeo.curve.stretch import stretch
from springgeo.equilibrium.cell import Strain
from springgeo.equilibrium.natural import Drawn

# cells whose strain differs by less than this, as a share of the greatest, are one helix
_EQUAL = 1e-7


@dataclass(frozen=True, eq=False)
class Pose:
    """Axes ``(3, 3)`` (tangent, normal, across) and position ``(3,) mm``."""

    R: Array
    p: Array

    def moved(self, motion: tuple[Array, Array]) -> Pose:
        """Return the pose under a motion (axes, origin)."""
        axes, origin = motion
        return Pose(axes @ self.R, origin + axes @ self.p)

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


def loaded(
    path: Path, wire: Drawn, strain: Strain, first: Pose, near: Loaded | None = None
) -> Loaded:
    """Return the loaded wire.

    Parameters
    ----------
    path : Path
        As drawn. What lies beyond the contacts moves along as it is.
    wire : Drawn
        The cells.
    strain : Strain
        Of each cell; cells of nearly equal strain along a whole piece become one helix.
    first : Pose
        Of the first node.
    near : Loaded, optional
        The same wire under nearly the same load, to begin with.
    """
    runs = _runs(wire.piece)
    middle, slope = strain.middle.copy(), strain.slope.copy()
    whole = [_evened(middle[run], slope[run], wire.length[run]) for run in runs]
    half = np.repeat(wire.length / 2, 2)
    bend = np.stack([middle - SPREAD * slope, middle + SPREAD * slope], axis=1).reshape(-1, 3)
    ends = arc_ends(half, bend)
    R, p = chained(ends.R, ends.p)
    R = np.concatenate([first.R[None], first.R @ R[1::2]])
    p = np.concatenate([first.p[None], first.p + p[1::2] @ first.R.T])
    pieces = []
    # what a smooth run misses of its solved end (short ones some 1e-7 rad), the rest moves along
    drift = np.eye(3), np.zeros(3)
    begun = [None] * len(runs) if near is None else near.runs
    for run, even, known in zip(runs, whole, begun, strict=True):
        at = Pose(R[run.start], p[run.start]).moved(drift)
        drawn = path.pieces[wire.piece[run.start]]
        length = wire.length[run]
        segment = (
            uniform(middle[run.start], float(length.sum()), at)
            if even
            else Strained.of(Frame(at.p, at.R), length, middle[run], slope[run], known)
        )
        pieces.append(Piece(segment, drawn.label, drawn.role))
        if isinstance(segment, Strained):
            drift = Pose(*segment.far_end).carried(Pose(R[run.stop], p[run.stop]))
    a = Pose(R[0], p[0]).carried(_drawn(path, float(wire.s[0])))
    b = Pose(R[-1], p[-1]).moved(drift).carried(_drawn(path, float(wire.s[-1])))
    before = _rest(path, 0.0, float(wire.s[0]), a)
    after = _rest(path, float(wire.s[-1]), path.length, b)
    segments = tuple(p.segment for p in pieces)
    return Loaded(Path([*before, *pieces, *after]), a, b, segments)


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
