"""The wire as the fit sees it: coarse stations on a choice of pieces, refined where asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path, Piece, Segment
from springgeo.curve.frame import Array
from springgeo.curve.kinds.arc import Arc
from springgeo.curve.kinds.helix import Helix
from springgeo.curve.strained import Strained

Mask = npt.NDArray[np.bool_]

# a station at least every 0.2 rad of bend, and on a straight piece every half of its wire's
# diameter but at most 16; loaded wire has its steps as often
_TURN = 0.2


@dataclass(frozen=True, eq=False)
class Wire:
    """Stations on chosen pieces of a path: arc lengths ``s`` (n,) and ``point`` (n, 3), mm.

    Each lies in the stretch ``low`` to ``high`` (n,) of its ``piece`` (n,) int, up to its
    neighbours there; mm.
    """

    path: Path
    wire_radius: float
    s: Array
    point: Array
    low: Array
    high: Array
    piece: npt.NDArray[np.intp]

    @classmethod
    def of(cls, path: Path, wire_diameter: float) -> Wire:
        """Return the stations of a whole path."""
        columns = []
        for i, (piece, start) in enumerate(path):
            q, point = _stations(piece, wire_diameter)
            low, high = np.concatenate([q[:1], q[:-1]]), np.concatenate([q[1:], q[-1:]])
            columns.append((start + q, point, start + low, start + high, np.full(len(q), i)))
        s, point, low, high, index = (np.concatenate(c) for c in zip(*columns, strict=True))
        return cls(path, wire_diameter / 2, s, point, low, high, index)

    @cached_property
    def reach(self) -> Array:
        """Length of each station's stretch, ``(n,) float, mm``."""
        return self.high - self.low

    @cached_property
    def edge(self) -> Mask:
        """Whether a station is an end of its piece, ``(n,) bool``."""
        ends: Mask = (self.s == self.low) | (self.s == self.high)
        return ends

    @cached_property
    def all(self) -> Mask:
        """Every station, ``(n,) bool``."""
        return np.ones(len(self.s), dtype=bool)

    def mask(self, keep: Callable[[Piece], bool]) -> Mask:
        """Return which stations, ``(n,) bool``, lie on pieces that ``keep`` accepts."""
        chosen: Mask = np.array([keep(p) for p in self.path.pieces])[self.piece]
        return chosen

    def only(self, keep: Callable[[Piece], bool]) -> Wire:
        """Return the stations of those pieces that ``keep`` accepts; at least one must pass."""
        chosen = self.mask(keep)
        return Wire(
            self.path,
            self.wire_radius,
            self.s[chosen],
            self.point[chosen],
            self.low[chosen],
            self.high[chosen],
            self.piece[chosen],
        )

    @property
    def tips(self) -> tuple[float, ...]:
        """Arc lengths of the wire's flat-cut ends that belong to the chosen pieces, mm."""
        found: tuple[float, ...] = ()
        if self.piece[0] == 0:
            found += (0.0,)
        if self.piece[-1] == len(self.path.pieces) - 1:
            found += (self.path.length,)
        return found

    def label(self, s: float) -> str:
        """Return the name of the piece at an arc length, mm."""
        return self.path.pieces[int(self.path.find(np.array([s]))[0])].label


def _stations(piece: Piece, wire_diameter: float) -> tuple[Array, Array]:
    """Return arc lengths ``(n,)`` and points ``(n, 3)`` on a piece: those loaded wire knows."""
    segment = piece.segment
    if isinstance(segment, Strained):
        q, known, _ = segment.steps
        return q, known
    q = np.linspace(0.0, segment.length, _count(segment, wire_diameter))
    return q, segment.point(q)


def _count(segment: Segment, wire_diameter: float) -> int:
    if isinstance(segment, Helix):
        bend = 4 * np.pi**2 * segment.radius / segment.turn_length**2
    else:
        bend = 1 / segment.radius if isinstance(segment, Arc) else segment.max_curvature
    if bend * segment.length < 1e-9:
        return 3 + min(14, int(2 * segment.length / wire_diameter))
    return 5 + int(segment.length * bend / _TURN)
