"""How near neighbouring turns of loaded coils come to each other."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import Index
from springgeo.curve.strained import Strained

# where the next turn is looked for, in circumferences of the circle of curvature
_ABOUT = (0.5, 1.3)
# Newton steps at most, and what less of distance, as a share, is worth one
_ROUNDS, _WORTH = 6, 1e-13


def turn_approach(
    coils: Strained, below: float = float("inf")
) -> tuple[float, float, float] | None:
    """Return the least distance, mm, of places about one turn apart, and their arc lengths.

    Of the ends of all steps, some 32 to a turn, each to the point of the next turn that is nearest
    to it. None on less than a turn, and where none is nearer than ``below`` mm.
    """
    s, point, tangent = coils.steps
    middle = coils.curvature(np.array([coils.length / 2]))[0]
    bend = float(np.sqrt(middle @ middle))
    here, there = _next_turn(s, point, 2 * np.pi / bend)
    off = point[there] - point[here]
    apart2, along = _dot(off, off), _dot(off, tangent[there])
    # no nearer than the tangent there, less twice what wire of this curvature leaves it by
    least = np.sqrt(np.maximum(apart2 - along**2, 0.0)) - bend * along**2
    most = min(below, float(np.sqrt(apart2.min(initial=np.inf))) * (1 + _WORTH))
    best = (below, 0.0, 0.0)
    s, t, place = s[here], s[there], point[here]
    for _ in range(_ROUNDS):
        go = least < min(most, best[0]) * (1 - _WORTH)
        if not go.any():
            break
        s, t, place = s[go], t[go], place[go]
        found, along_wire, curvature = coils.traced(t)
        off = found - place
        apart2, slope = _dot(off, off), _dot(off, along_wire)
        i = int(np.argmin(apart2))
        best = min(best, (float(np.sqrt(apart2[i])), float(s[i]), float(t[i])))
        steep = np.maximum(1 + _dot(off, curvature), 0.1)
        t = np.minimum(t - slope / steep, coils.length)
        # twice the fall that the next step promises
        least = np.sqrt(np.maximum(apart2 - 2 * slope**2 / steep, 0.0))
    return best if best[0] < below else None


def _next_turn(s: Array, point: Array, turn: float) -> tuple[Index, Index]:
    """Return places, and of the places about a turn later the nearest to each.

    A nearest place at the edge of what is looked at is no neighbour.
    """
    low, high = (int(x * turn / float(np.diff(s).max())) for x in _ABOUT)
    lags = np.arange(low, min(high + 2, len(s)))
    apart = np.full((len(lags), len(s)), np.inf)
    columns = np.ascontiguousarray(point.T)
    for row, lag in zip(apart, lags.tolist(), strict=True):
        off = columns[:, lag:] - columns[:, : len(s) - lag]
        row[: len(s) - lag] = np.einsum("ij,ij->j", off, off)
    if not len(lags):
        return lags, lags
    nearest = np.argmin(apart, axis=0)
    here = np.flatnonzero((nearest > 0) & (np.arange(len(s)) + lags[nearest] < len(s) - 1))
    return here, here + lags[nearest[here]]


def _dot(a: Array, b: Array) -> Array:
    result: Array = np.einsum("ij,ij->i", a, b)
    return result
