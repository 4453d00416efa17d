"""The wire as the fit sees it: coarse stations on a choice of pieces, refined where asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path, Piece
from springgeo.curve.frame import Array
from springgeo.curve.helix import Helix

# a station at least every 0.2 rad of bend, and on a straight piece every half of its wire's
# diameter but at most 16
_TURN = 0.2


@dataclass(frozen=True, eq=False)
class Wire:
    """Stations on chosen pieces of a path.

    Attributes
    ----------
    path : Path
    radius : float, mm
        Half the wire diameter.
    s : (n,) float, mm
    point : (n, 3) float, mm
    low, high : (n,) float, mm
        The stretch of the station's piece between its neighbours.
    piece : (n,) int
    """

    path: Path
    radius: float
    s: Array
    point: Array
    low: Array
    high: Array
    piece: npt.NDArray[np.intp]

    @classmethod
    def of(cls, path: Path, diameter: float,
           keep: Callable[[Piece], bool] = lambda _piece: True) -> Wire:
        """Return the stations of the pieces that ``keep`` accepts; at least one must pass."""
        columns = []
        for i, (piece, start) in enumerate(path):
            if not keep(piece):
                continue
            length = piece.segment.length
            q = np.linspace(0.0, length, _count(piece, diameter))
            low, high = np.concatenate([q[:1], q[:-1]]), np.concatenate([q[1:], q[-1:]])
            columns.append((start + q, piece.segment.point(q), start + low, start + high,
                            np.full(len(q), i)))
        s, point, low, high, index = (np.concatenate(c) for c in zip(*columns, strict=True))
        return cls(path, diameter / 2, s, point, low, high, index)

    def at(self, s: Array, piece: npt.NDArray[np.intp]) -> Array:
        """Return points ``(n, 3)`` at arc lengths on given pieces."""
        out = np.empty((len(s), 3))
        for i in set(piece.tolist()):
            here = piece == i
            out[here] = self.path.pieces[i].segment.point(s[here] - self.path.starts[i])
        return out

    @property
    def tips(self) -> tuple[float, ...]:
        """Arc lengths of the wire's flat-cut ends that belong to the chosen pieces, mm."""
        found = ()
        if self.piece[0] == 0:
            found += (0.0,)
        if self.piece[-1] == len(self.path.pieces) - 1:
            found += (self.path.length,)
        return found

    def label(self, s: float) -> str:
        """Return the name of the piece at an arc length, mm."""
        return self.path.pieces[int(self.path.find(np.array([s]))[0])].label


def _count(piece: Piece, diameter: float) -> int:
    segment = piece.segment
    bend = _helix_curvature(segment) if isinstance(segment, Helix) else segment.max_curvature
    if bend * segment.length < 1e-9:
        return 3 + min(14, int(2 * segment.length / diameter))
    return 5 + int(segment.length * bend / _TURN)


def _helix_curvature(h: Helix) -> float:
    return float(4 * np.pi**2 * h.radius / h.turn_length**2)
