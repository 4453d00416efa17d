"""The centreline: labelled segments in order, the one description of the wire's shape."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, fields, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.curve.piece import Piece
from springgeo.curve.segment import Segment, Trace
from springgeo.curve.strained import chains


@dataclass(frozen=True, eq=False)
class Samples:
    """Stations along the wire; both ends of every segment are among them.

    Attributes
    ----------
    s : (n,) float, mm
        Arc length from the start of the path; a joint appears twice.
    index : (n,) int
        Which piece the station belongs to.
    point, tangent, curvature, normal : (n, 3) float
    """

    s: Array
    index: npt.NDArray[np.intp]
    point: Array
    tangent: Array
    curvature: Array
    normal: Array

    @classmethod
    def on(cls, segment: Segment, index: int, start: float, q: Array) -> Samples:
        """Return stations ``q`` mm along a segment that starts at ``start``; its own normal."""
        point, t, normal = segment.placed(q)
        return cls(start + q, np.full(len(q), index), point, t, segment.curvature(q), normal)

    @classmethod
    def joined(cls, parts: Iterable[Samples]) -> Samples:
        """Return the stations of several runs in order."""
        columns = zip(*([getattr(p, f.name) for f in fields(cls)] for p in parts), strict=True)
        return cls(*map(np.concatenate, columns))


class Path:
    """An immutable chain of pieces.

    Parameters
    ----------
    pieces : iterable of Piece
        In order; each starts where the one before ends.
    """

    def __init__(self, pieces: Iterable[Piece]) -> None:
        self.pieces: tuple[Piece, ...] = tuple(p for p in pieces if p.segment.length > 0.0)
        if not self.pieces:
            raise ValueError("a path needs at least one segment of positive length")
        lengths = np.array([p.segment.length for p in self.pieces])
        self.starts: Array = np.concatenate([[0.0], np.cumsum(lengths)])
        self.starts.setflags(write=False)

    def __iter__(self) -> Iterator[tuple[Piece, float]]:
        """Yield each piece with the arc length at which it starts, mm."""
        return iter(zip(self.pieces, self.starts[:-1].tolist(), strict=True))

    @property
    def length(self) -> float:
        """Exact length of the wire, mm."""
        return float(self.starts[-1])

    def find(self, s: Array) -> npt.NDArray[np.intp]:
        """Return the index of the piece at each arc length ``(n,) float, mm``."""
        return _find(self.starts, s)

    @cached_property
    def _evaluated(self) -> tuple[Array, tuple[Segment, ...]]:
        """What answers for places, and where it starts: runs of loaded wire answer together."""
        spans, first = chains([p.segment for p in self.pieces], self.starts)
        return np.append(self.starts[first], self.starts[-1]), spans

    def traced(self, s: Array, *names: Trace) -> tuple[Array, ...]:
        """Return several of ``point``, ``tangent``, ``curvature`` at once, each ``(n, 3)``.

        What each place lies on is then found once for all of them.
        """
        s = np.atleast_1d(np.asarray(s, dtype=float))
        starts, spans = self._evaluated
        index = _find(starts, s)
        out = tuple(np.empty((len(s), 3)) for _ in names)
        for i in np.flatnonzero(np.bincount(index)).tolist():
            here = np.flatnonzero(index == i)
            for column, found in zip(out, spans[i].traced(s[here] - starts[i], names), strict=True):
                column[here] = found
        return out

    def point(self, s: Array) -> Array:
        """Return positions ``(n, 3) float, mm`` at arc lengths ``(n,) float, mm``."""
        return self.traced(s, "point")[0]

    def tangent(self, s: Array) -> Array:
        """Return unit tangents ``(n, 3) float``."""
        return self.traced(s, "tangent")[0]

    def curvature(self, s: Array) -> Array:
        """Return curvature vectors ``(n, 3) float, 1/mm``; at a joint, of the later piece."""
        return self.traced(s, "curvature")[0]

    def normal(self, s: Array) -> Array:
        """Return unit vectors across the wire ``(n, 3) float``, continuous over joints."""
        return self.placed(s)[2]

    def placed(self, s: Array) -> tuple[Array, Array, Array]:
        """Return ``point``, ``tangent`` and ``normal`` at once, each ``(n, 3) float``."""
        s = np.atleast_1d(np.asarray(s, dtype=float))
        index = self.find(s)
        out = np.empty((len(s), 3)), np.empty((len(s), 3)), np.empty((len(s), 3))
        for i in np.flatnonzero(np.bincount(index)).tolist():
            here = np.flatnonzero(index == i)
            for column, found in zip(
                out, self._placed_on(i, s[here] - self.starts[i]), strict=True
            ):
                column[here] = found
        return out

    def _placed_on(self, i: int, q: Array) -> tuple[Array, Array, Array]:
        point, t, own = self.pieces[i].segment.placed(q)
        return point, t, _turned(own, t, self._twists[i])

    @cached_property
    def _twists(self) -> list[float]:
        """Angle by which each segment's own normal is turned to follow its predecessor, rad."""
        twists = [0.0]
        for before, after in zip(self.pieces, self.pieces[1:], strict=False):
            end = np.array([before.segment.length])
            t = before.segment.tangent(end)
            last = _turned(before.segment.normal(end), t, twists[-1])[0]
            own = after.segment.normal(np.zeros(1))[0]
            twists.append(float(np.arctan2(np.cross(t[0], own) @ last, own @ last)))
        return twists

    def sample(self, step: float) -> Samples:
        """Return stations no further apart than ``step`` mm, segment by segment."""
        parts = []
        for i, (piece, start) in enumerate(self):
            n = int(np.ceil(piece.segment.length / step)) + 1
            q = np.linspace(0.0, piece.segment.length, max(n, 2))
            point, t, normal = self._placed_on(i, q)
            kappa = piece.segment.curvature(q)
            parts.append(Samples(start + q, np.full(len(q), i), point, t, kappa, normal))
        return Samples.joined(parts)

    def joint_angles(self) -> Array:
        """Return the angle between the tangents at each joint, ``(pieces − 1,) float, rad``."""
        return self._jumps(lambda segment, q: segment.tangent(q))

    def joint_gaps(self) -> Array:
        """Return the distance between the ends at each joint, ``(pieces − 1,) float, mm``."""
        return self._jumps(lambda segment, q: segment.point(q))

    def curvature_jumps(self) -> Array:
        """Return the change of the curvature vector at each joint, ``(pieces − 1,) 1/mm``."""
        return self._jumps(lambda segment, q: segment.curvature(q))

    def _jumps(self, of: Callable[[Segment, Array], Array]) -> Array:
        jumps = [
            np.linalg.norm(of(b.segment, np.zeros(1)) - of(a.segment, np.array([a.segment.length])))
            for a, b in zip(self.pieces, self.pieces[1:], strict=False)
        ]
        return np.array(jumps, dtype=float)

    def moved(self, axes: Array, origin: Array) -> Path:
        """Return the path under ``x -> origin + axes @ x`` (a mirror is allowed)."""
        return Path(replace(p, segment=p.segment.moved(axes, origin)) for p in self.pieces)

    def reversed(self) -> Path:
        """Return the path run through from its other end."""
        return Path(replace(p, segment=p.segment.reversed()) for p in reversed(self.pieces))


def _find(starts: Array, s: Array) -> npt.NDArray[np.intp]:
    """Return between which of rising ``starts``, the end included, each arc length lies."""
    inside = np.searchsorted(starts, s, side="right") - 1
    return np.minimum(np.maximum(inside, 0), len(starts) - 2)


def _turned(normal: Array, tangent: Array, angle: float) -> Array:
    turned: Array = np.cos(angle) * normal + np.sin(angle) * np.cross(tangent, normal)
    return turned
