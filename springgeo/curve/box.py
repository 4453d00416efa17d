"""The exact box round a tube on a path, from the centreline alone."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix import Helix
from springgeo.curve.path import Path
from springgeo.curve.piece import Piece

_DIRECTIONS = np.concatenate([-np.eye(3), np.eye(3)])
# samples half a radius apart miss a maximum by at most a sixteenth of the radius, at the tightest
# bend a wire of that radius can have; twice that is allowed
_SLACK = 1 / 8
# a bracket is cut into so many parts, of which two are kept, so often: to 2e-7 of a sample, and so
# the reach to 1e-13 of the radius
_PARTS, _ROUNDS = 64, 5


def tube_box(path: Path, radius: float) -> Array:
    """Return the box of the tube with plane-cut ends, ``(2, 3) float, mm``: lowest, highest.

    A cross-section is a disc across the tangent ``t``, which reaches ``r √(1 − (t·u)²)`` in
    direction ``u``; the extreme over the wire is found on samples, those of a helix on its first
    and last turn alone, and closed in on. Good to rounding error.
    """
    step = radius / 2
    s = _samples(path, step)
    point, tangent = path.traced(s, "point", "tangent")
    reach = _reach(_along(point), _along(tangent), radius)
    # close in on every local maximum the true one may hide behind: turns that reach nearly as far
    # are sampled at different places, and the furthest need not have the best sample
    edge = np.full((1, 6), -np.inf)
    peak = (reach >= np.vstack([edge, reach[:-1]])) & (reach >= np.vstack([reach[1:], edge]))
    peak &= reach >= reach.max(axis=0) - _SLACK * radius
    # all candidates of all directions in one batch: candidate i looks along its direction
    which, direction = np.nonzero(peak)
    low, high = (
        np.clip(s[which] - step, 0.0, path.length),
        np.clip(s[which] + step, 0.0, path.length),
    )
    furthest = reach.max(axis=0)
    rows = np.arange(len(which))
    for _ in range(_ROUNDS):
        q = np.linspace(low, high, _PARTS + 1, axis=1)
        point, tangent = path.traced(q.ravel(), "point", "tangent")
        u = np.repeat(_DIRECTIONS[direction], _PARTS + 1, axis=0)
        value = _reach(np.sum(point * u, axis=1), np.sum(tangent * u, axis=1), radius)
        value = value.reshape(q.shape)
        best = np.argmax(value, axis=1)
        np.maximum.at(furthest, direction, value[rows, best])
        low, high = q[rows, np.maximum(best - 1, 0)], q[rows, np.minimum(best + 1, _PARTS)]
    return np.array([-furthest[:3], furthest[3:]])


def _samples(path: Path, step: float) -> Array:
    """Return stations no further apart than ``step`` where the wire may reach furthest."""
    parts = []
    for piece, start in path:
        length = piece.segment.length
        q = np.linspace(0.0, length, max(int(np.ceil(length / step)) + 1, 2))
        parts.append(start + _outer_turns(piece, q, step))
    return np.concatenate(parts)


def _outer_turns(piece: Piece, q: Array, step: float) -> Array:
    """Return the stations of a helix on its first and last turn: the others reach less far.

    A turn on, a helix stands further along its axis, and else at the same place: of all its turns
    the last or the first reaches furthest in any direction.
    """
    seg = piece.segment
    if not isinstance(seg, Helix) or seg.turns <= 2:
        return q
    turn = seg.turn_length + 2 * step
    return q[(q <= turn) | (q >= seg.length - turn)]


def _along(vectors: Array) -> Array:
    """Return vectors ``(n, 3)`` along the six directions, ``(n, 6)``."""
    return np.hstack([-vectors, vectors])


def _reach(along: Array, slope: Array, radius: float) -> Array:
    result: Array = along + radius * np.sqrt(np.maximum(0.0, 1 - slope**2))
    return result
