"""How near the wire comes to itself: the least distance between non-neighbouring wire."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve.approach.turns import turn_approach
from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix import Helix, turn_distance, turn_offset
from springgeo.curve.motion import Index
from springgeo.curve.path import Path
from springgeo.curve.piece import Piece
from springgeo.curve.segment import Segment
from springgeo.curve.strained import Strained

Mask = npt.NDArray[np.bool_]
# Newton steps at most, and the change, in wire diameters, below which none is worth while: an
# error of that size changes the distance by its square
_ROUNDS, _SETTLED = 12, 1e-9
# how many more steps as long as the last one a place may have to go, and what less of distance, in
# wire diameters, is worth another
_STEPS_LEFT, _WORTH = 16, 1e-11
# in wire diameters: what is further apart is not near
_REACH = 2.0


@dataclass(frozen=True)
class Approach:
    """The nearest approach of two places on the wire.

    ``distance`` is between centrelines, mm; ``at`` are the two arc lengths, mm; ``labels`` name
    the pieces there.
    """

    distance: float
    at: tuple[float, float]
    labels: tuple[str, str]


def body_approach(path: Path, below: float = math.inf) -> Approach | None:
    """Return the nearest approach of the body's own turns, or None without a turn.

    Exact for a helix; for loaded coils by ``turn_approach``. None where nothing is nearer than
    ``below`` mm.
    """
    found = None
    for piece, start in path:
        seg = piece.segment
        if isinstance(seg, Strained) and piece.role == "body":
            near = turn_approach(seg, below if found is None else found.distance)
            if near is not None:
                at = start + near[1], start + near[2]
                found = Approach(near[0], at, (piece.label, piece.label))
        if isinstance(seg, Helix) and piece.role == "body" and seg.turns > 1:
            distance = turn_distance(seg.radius, seg.pitch)
            if distance < (below if found is None else found.distance):
                apart = seg.turn_length * (1 - turn_offset(seg.radius, seg.pitch) / (2 * np.pi))
                found = Approach(distance, (start, start + apart), (piece.label, piece.label))
    return found


def hook_approach(path: Path, wire_diameter: float, below: float = math.inf) -> Approach | None:
    """Return the nearest approach of any wire outside the body to any other wire.

    Wire closer than 3 ``wire_diameter`` along the curve is its own neighbour and left out. Returns
    None where nothing comes within 2 diameters, or nearer than ``below`` mm. One of the places
    lies outside the body, or where it begins.
    """
    apart = wire_diameter / 4
    reach = min(_REACH * wire_diameter, below + apart)
    seen = _stations(path, apart, reach)
    i, j, gap = _near_pairs(seen, wire_diameter, reach)
    if not len(gap):
        return None
    found = (below, 0.0, 0.0)

    def nearest(of: Mask) -> tuple[float, float, float]:
        s, t = seen.s[i[of]], seen.s[j[of]]
        return _nearest(path, s, t, seen.stretch[:, i[of]], wire_diameter, found)

    # the nearest approach lies within half the stations' distance of one of a pair, on either
    # wire: what is further apart than that above the best can be left alone
    first = gap <= gap.min() + 2 * apart
    found = nearest(first)
    rest = ~first & (gap <= found[0] + 2 * apart)
    if rest.any():
        found = nearest(rest)
    distance, *at = found
    if distance >= below:
        return None
    here, there = path.find(np.array(at))
    if path.pieces[here].role == "body":  # at the joint with it, whose wire goes either way
        here += -1 if at[0] <= path.starts[here] else 1
    return Approach(distance, (at[0], at[1]), (path.pieces[here].label, path.pieces[there].label))


def _nearest(
    path: Path,
    s: Array,
    t: Array,
    stretch: Array,
    wire_diameter: float,
    best: tuple[float, float, float],
) -> tuple[float, float, float]:
    """Return the least distance reached from pairs of places, and its two arc lengths.

    Or ``best``, where none comes below it. Every pair moves to the nearest local minimum; one that
    has got there sends home all those that what is left of their way cannot bring below it. The
    first place of each stays on its ``stretch`` ``(2, n)``, mm.
    """
    for left in range(_ROUNDS, -1, -1):
        point, tangent, curvature = path.traced(
            np.concatenate([s, t]), "point", "tangent", "curvature"
        )
        pair = _Pairs(s, t, *(np.split(x, 2) for x in (point, tangent, curvature)))
        step_s, step_t = pair.steps(stretch, (0.0, path.length))
        moved_s, moved_t = np.clip(s - step_s, *stretch), np.clip(t - step_t, 0.0, path.length)
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
        s, t, stretch = moved_s[go], moved_t[go], stretch[:, go]
    return best


@dataclass(frozen=True, eq=False)
class _Stations:
    """Places on the wire.

    Attributes
    ----------
    s : (n,) float, mm
    point : (n, 3) float, mm
    outside : (n,) bool
        Which lie outside the body.
    stretch : (2, n) float, mm
        From where to where the wire is in the body, or outside it, as at the place.
    """

    s: Array
    point: Array
    outside: Mask
    stretch: Array


def _stations(path: Path, step: float, reach: float) -> _Stations:
    """Return stations on all wire outside the body, and on coils that it may come near."""
    in_body = np.array([piece.role == "body" for piece in path.pieces])
    own = [_even(piece, step) for piece in path.pieces]
    count = np.array([len(q) for q in own])
    s = np.concatenate(own) + np.repeat(path.starts[:-1], count)
    outside, point = np.repeat(~in_body, count), np.empty((len(s), 3))
    hooks = np.flatnonzero(outside)
    point[hooks] = path.point(s[hooks])
    parts = [point[part] for part in _in_a_row(hooks)]
    keep, first = outside.copy(), np.cumsum(count) - count
    for k in np.flatnonzero(in_body).tolist():
        near = _beside(path.pieces[k].segment, own[k], parts, reach)
        keep[first[k] : first[k] + count[k]] = near
    coils = np.flatnonzero(keep & ~outside)
    point[coils] = path.point(s[coils])
    # the joints where the wire goes into the body or out of it, and its ends
    border = np.array([0.0, *path.starts[1:-1][np.diff(in_body)], path.length])
    stretch = np.repeat(np.searchsorted(border[1:], path.starts[:-1], side="right"), count)[keep]
    return _Stations(
        s[keep], point[keep], outside[keep], np.stack([border[stretch], border[stretch + 1]])
    )


def _in_a_row(index: Index) -> list[Index]:
    """Return rising numbers in parts that follow each other without a gap."""
    return [x for x in np.split(index, np.flatnonzero(np.diff(index) > 1) + 1) if len(x)]


def _even(piece: Piece, step: float) -> Array:
    length = piece.segment.length
    return np.linspace(0.0, length, max(int(np.ceil(length / step)) + 1, 2))


def _beside(segment: Segment, q: Array, hooks: list[Array], reach: float) -> Mask:
    """Return which places on a piece of the body, ``(n,) bool``, hooks may come within reach of."""
    near = np.zeros(len(q), dtype=bool)
    if isinstance(segment, Helix):
        axis = segment.frame.axes[:, 2]
        own = segment.length - q if segment.backward else q
        height = own * (segment.pitch / segment.turn_length)
        for points in hooks:
            along = (points - segment.frame.origin) @ axis
            near |= (height >= along.min() - reach) & (height <= along.max() + reach)
    elif isinstance(segment, Strained):
        s, known, _ = segment.steps
        before = np.clip(np.searchsorted(s, q, side="right") - 1, 0, len(s) - 2)
        for points in hooks:
            # no place is further from an end of its step than half the step
            way = reach + float(np.diff(s).max()) / 2
            low, high = points.min(axis=0) - way, points.max(axis=0) + way
            here = np.all((known >= low) & (known <= high), axis=1)
            near |= (here[:-1] | here[1:])[before]
    else:
        near[:] = True
    return near


def _near_pairs(seen: _Stations, wire_diameter: float, reach: float) -> tuple[Index, Index, Array]:
    """Return every hook station, its nearest non-neighbouring station within reach, how far."""
    s, point = seen.s, seen.point
    hooks = np.flatnonzero(seen.outside)
    found = [(hooks[:0], hooks[:0], s[:0])]
    for block in np.array_split(hooks, max(1, len(hooks) // 64)):
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

    def steps(self, stretch: Array, wire: tuple[float, float]) -> tuple[Array, Array]:
        """Return what to take off both arc lengths: damped Newton toward the local minimum.

        The first stays on its ``stretch`` ``(2, n)``, the second on the ``wire``.
        """
        d, g1, g2 = self.between, self.slope_s, self.slope_t
        a = np.maximum(1 + _dot(d, self.curvature[0]), 0.1)
        c = np.maximum(1 - _dot(d, self.curvature[1]), 0.1)
        b = -_dot(*self.tangent)
        det = a * c - b * b
        safe = det > 1e-4
        det = np.where(safe, det, 1.0)
        step_s = np.where(safe, (c * g1 - b * g2) / det, g1 / (2 * a))
        step_t = np.where(safe, (a * g2 - b * g1) / det, g2 / (2 * c))
        # a place held at an end does not take part: the other one moves alone
        held_s = _held(stretch[0], stretch[1], self.s, g1)
        held_t = _held(*wire, self.t, g2)
        step_s, step_t = np.where(held_t, g1 / a, step_s), np.where(held_s, g2 / c, step_t)
        limit = self.distance / 2
        return np.clip(step_s, -limit, limit), np.clip(step_t, -limit, limit)


def _dot(a: Array, b: Array) -> Array:
    result: Array = np.einsum("ij,ij->i", a, b)
    return result


def _held(low: Array | float, high: Array | float, s: Array, slope: Array) -> Mask:
    """Return where going downhill would lead beyond an end."""
    result: Mask = ((s <= low) & (slope > 0)) | ((s >= high) & (slope < 0))
    return result
