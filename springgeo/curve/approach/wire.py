"""How near the wire comes to itself: the least distance between non-neighbouring wire."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve.approach.turns import turn_approach
from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix import Helix, turn_distance, turn_offset
from springgeo.curve.path import Path
from springgeo.curve.piece import Piece
from springgeo.curve.strained import Strained

Mask = npt.NDArray[np.bool_]
# Newton steps at most, and the change, in wire diameters, below which none is worth while: an
# error of that size changes the distance by its square
_ROUNDS, _SETTLED = 12, 1e-9
# how many more steps as long as the last one a place may have to go, and what less of distance, in
# wire diameters, is worth another
_STEPS_LEFT, _WORTH = 16, 1e-11
_NOTHING = (float("inf"), 0.0, 0.0)


@dataclass(frozen=True)
class Approach:
    """The nearest approach of two places on the wire.

    ``distance`` is between centrelines, mm; ``at`` are the two arc lengths, mm; ``labels`` name
    the pieces there.
    """

    distance: float
    at: tuple[float, float]
    labels: tuple[str, str]


def body_approach(path: Path) -> Approach | None:
    """Return the nearest approach of the body's own turns, or None without a turn.

    Exact for a helix; for loaded coils by ``turn_approach``.
    """
    found = None
    for piece, start in path:
        seg = piece.segment
        if isinstance(seg, Strained) and piece.role == "body":
            near = turn_approach(path, start, seg.length)
            if near is not None and (found is None or near[0] < found.distance):
                found = Approach(near[0], near[1:], (piece.label, piece.label))
        if isinstance(seg, Helix) and piece.role == "body" and seg.turns > 1:
            distance = turn_distance(seg.radius, seg.pitch)
            if found is None or distance < found.distance:
                apart = seg.turn_length * (1 - turn_offset(seg.radius, seg.pitch) / (2 * np.pi))
                found = Approach(distance, (start, start + apart), (piece.label, piece.label))
    return found


def hook_approach(path: Path, wire_diameter: float, reach: float = 2.0) -> Approach | None:
    """Return the nearest approach of any wire outside the body to any other wire.

    Wire closer than 3 ``wire_diameter`` along the curve is its own neighbour and left out. Returns
    None where nothing comes within ``reach`` diameters.
    """
    apart = wire_diameter / 4
    seen = _stations(path, apart, reach * wire_diameter)
    i, j, gap = _near_pairs(seen, wire_diameter, reach * wire_diameter)
    if not len(gap):
        return None
    # the nearest approach lies within half the stations' distance of one of a pair, on either
    # wire: what is further apart than that above the best can be left alone
    first = gap <= gap.min() + 2 * apart
    best = _nearest(path, seen.s[i[first]], seen.s[j[first]], wire_diameter)
    rest = ~first & (gap <= best[0] + 2 * apart)
    if rest.any():
        best = min(best, _nearest(path, seen.s[i[rest]], seen.s[j[rest]], wire_diameter))
    if best == _NOTHING:
        return None
    distance, *at = best
    labels = tuple(path.pieces[k].label for k in path.find(np.array(at)))
    return Approach(distance, (at[0], at[1]), (labels[0], labels[1]))


def _nearest(path: Path, s: Array, t: Array, wire_diameter: float) -> tuple[float, float, float]:
    """Return the least distance reached from pairs of places, and its two arc lengths.

    Every pair moves to the nearest local minimum; one that has got there sends home all those
    that what is left of their way cannot bring below it.
    """
    best = _NOTHING
    for left in range(_ROUNDS, -1, -1):
        point, tangent, curvature = path.traced(
            np.concatenate([s, t]), "point", "tangent", "curvature"
        )
        pair = _Pairs(s, t, *(np.split(x, 2) for x in (point, tangent, curvature)))
        step_s, step_t = pair.steps(path.length)
        moved_s, moved_t = (np.clip(x, 0.0, path.length) for x in (s - step_s, t - step_t))
        way = np.maximum(np.abs(moved_s - s), np.abs(moved_t - t))
        there = (way < _SETTLED * wire_diameter) | (left == 0)
        apart = np.abs(s - t) > 2.5 * wire_diameter
        distance = pair.distance
        if (there & apart).any():
            i = int(np.argmin(np.where(there & apart, distance, np.inf)))
            best = min(best, (float(distance[i]), float(s[i]), float(t[i])))
        fall = (np.abs(pair.slope_s) + np.abs(pair.slope_t)) / np.maximum(distance, 1e-300)
        rest = np.minimum(_STEPS_LEFT * way, wire_diameter)
        go = ~there & (distance - fall * rest < best[0] - _WORTH * wire_diameter)
        if not go.any():
            break
        s, t = moved_s[go], moved_t[go]
    return best


@dataclass(frozen=True, eq=False)
class _Stations:
    """Places on the wire ``(n,)``, their points ``(n, 3)``, and which lie outside the body."""

    s: Array
    point: Array
    outside: Mask


def _stations(path: Path, step: float, reach: float) -> _Stations:
    """Return stations on all wire outside the body, and on coils that it may come near."""
    own: dict[int, tuple[Array, Array]] = {}
    hooks: list[list[Array]] = [[]]  # points of wire outside the body, one list per stretch of it
    for k, (piece, _) in enumerate(path):
        if piece.role == "body":
            hooks.append([])
            continue
        q = _even(piece, step)
        own[k] = q, piece.segment.point(q)
        hooks[-1].append(own[k][1])
    stretches = [np.concatenate(points) for points in hooks if points]
    for k, (piece, _) in enumerate(path):
        if piece.role == "body":
            q = _coils_beside(piece, _even(piece, step), stretches, reach)
            own[k] = q, piece.segment.point(q)
    order = sorted(own)
    return _Stations(
        np.concatenate([path.starts[k] + own[k][0] for k in order]),
        np.concatenate([own[k][1] for k in order]),
        np.concatenate([np.full(len(own[k][0]), path.pieces[k].role != "body") for k in order]),
    )


def _even(piece: Piece, step: float) -> Array:
    length = piece.segment.length
    return np.linspace(0.0, length, max(int(np.ceil(length / step)) + 1, 2))


def _coils_beside(piece: Piece, q: Array, stretches: list[Array], reach: float) -> Array:
    """Return those stations of a piece of the body whose height some stretch comes within reach."""
    seg = piece.segment
    if not isinstance(seg, Helix):
        return q
    axis = seg.frame.axes[:, 2]
    own = seg.length - q if seg.backward else q
    height = own * (seg.pitch / seg.turn_length)
    near = np.zeros(len(q), dtype=bool)
    for points in stretches:
        along = (points - seg.frame.origin) @ axis
        near |= (height >= along.min() - reach) & (height <= along.max() + reach)
    return q[near]


def _near_pairs(
    seen: _Stations, wire_diameter: float, reach: float
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp], Array]:
    """Return every hook station, its nearest non-neighbouring station within reach, how far."""
    s, point = seen.s, seen.point
    hooks = np.flatnonzero(seen.outside)
    found = [(hooks[:0], hooks[:0], s[:0])]
    for block in np.array_split(hooks, max(1, len(hooks) // 128)):
        if not len(block):
            continue
        low, high = point[block].min(axis=0) - reach, point[block].max(axis=0) + reach
        near = np.flatnonzero(np.all((point >= low) & (point <= high), axis=1))
        # squared distances by one product, good enough to choose the pairs to refine; not by
        # BLAS, whose threads cost more than they save
        here, there = point[block], point[near]
        gap = np.sum(here**2, axis=1)[:, None] + np.sum(there**2, axis=1)
        gap -= 2 * np.einsum("ik,jk->ij", here, there)
        gap[np.abs(s[block][:, None] - s[near]) < 3 * wire_diameter] = np.inf
        pick = np.argmin(gap, axis=1)
        least = gap[np.arange(len(block)), pick]
        ok = least < reach**2
        found.append((block[ok], near[pick[ok]], np.sqrt(np.maximum(least[ok], 0.0))))
    i, j, distance = (np.concatenate(column) for column in zip(*found, strict=True))
    return i, j, distance


@dataclass(frozen=True, eq=False)
class _Pairs:
    """Pairs of places on the wire: arc lengths ``(n,)``; of both places point and derivatives."""

    s: Array
    t: Array
    point: list[Array]
    tangent: list[Array]
    curvature: list[Array]

    @cached_property
    def between(self) -> Array:
        """From the second place to the first, ``(n, 3)``."""
        return self.point[0] - self.point[1]

    @cached_property
    def distance(self) -> Array:
        """How far apart, ``(n,)``."""
        return np.sqrt(_dot(self.between, self.between))

    @cached_property
    def slope_s(self) -> Array:
        """Derivative of half the squared distance over the first place."""
        return _dot(self.between, self.tangent[0])

    @cached_property
    def slope_t(self) -> Array:
        """The same over the second."""
        return -_dot(self.between, self.tangent[1])

    def steps(self, length: float) -> tuple[Array, Array]:
        """Return what to take off both arc lengths: damped Newton toward the local minimum."""
        d, g1, g2 = self.between, self.slope_s, self.slope_t
        a = np.maximum(1 + _dot(d, self.curvature[0]), 0.1)
        c = np.maximum(1 - _dot(d, self.curvature[1]), 0.1)
        b = -_dot(*self.tangent)
        det = a * c - b * b
        safe = det > 1e-4
        det = np.where(safe, det, 1.0)
        step_s = np.where(safe, (c * g1 - b * g2) / det, g1 / (2 * a))
        step_t = np.where(safe, (a * g2 - b * g1) / det, g2 / (2 * c))
        # a place held at the wire's end does not take part: the other one moves alone
        held_s, held_t = _held(length, self.s, g1), _held(length, self.t, g2)
        step_s, step_t = np.where(held_t, g1 / a, step_s), np.where(held_s, g2 / c, step_t)
        limit = self.distance / 2
        return np.clip(step_s, -limit, limit), np.clip(step_t, -limit, limit)


def _dot(a: Array, b: Array) -> Array:
    result: Array = np.einsum("ij,ij->i", a, b)
    return result


def _held(length: float, s: Array, slope: Array) -> Mask:
    """Return where going downhill would leave the wire at one of its ends."""
    result: Mask = ((s <= 0.0) & (slope > 0)) | ((s >= length) & (slope < 0))
    return result
