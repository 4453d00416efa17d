"""Distance of points from the wire of one end: stations on its centreline, each with a parabola."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from springgeo.curve import Arc, Helix, Line, Piece, Segment
from springgeo.curve.frame import Array, rotation_z, vector
from springgeo.ends.protocol import BodyEnd, EndShape

# turns of body that the wire of an end begins with
BEFORE = 2.5
# stations looked at where two strands may be near: two of each
_NEXT = 4
# points at a time whose distances from all stations are held at once
_AT_ONCE = 512

Ints = np.ndarray[tuple[int], np.dtype[np.intp]]


@dataclass(frozen=True, eq=False)
class EndWire:
    """An end's wire in its body end's local frame, the last coils of the body before it.

    ``fineness`` is the step between stations over the radius of curvature.
    """

    shape: EndShape
    end: BodyEnd
    fineness: float = 0.25

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """The coils and the end's own pieces, from the body to the cut end."""
        return (_coils(self.end), *self.shape.pieces)

    @cached_property
    def counts(self) -> tuple[int, ...]:
        """Stations on each piece."""
        return tuple(self._count(p) for p in self.pieces)

    def _count(self, piece: Piece) -> int:
        seg, r = piece.segment, self.end.wire_diameter / 2
        bent = 0.0 if isinstance(seg, Line) else _greatest(seg)
        step = 1.5 * r if bent < 1e-9 else min(self.fineness / bent, 1.5 * r)
        return max(3, int(seg.length / step) + 2)

    @cached_property
    def stations(self) -> tuple[Array, Array, Array, Array]:
        """Points, tangents, curvature vectors, and arc lengths from the body's end."""
        return self.at(self.counts)

    def at(self, counts: tuple[int, ...]) -> tuple[Array, Array, Array, Array]:
        """Return stations, so many on each piece, evenly."""
        out: list[tuple[Array, ...]] = [_coil_stations(self.end, counts[0])]
        start = 0.0
        for piece, n in zip(self.shape.pieces, counts[1:], strict=True):
            seg = piece.segment
            q = np.linspace(0.0, seg.length, n)
            out.append((*seg.traced(q), start + q))
            start += seg.length
        point, tangent, curvature, s = (np.concatenate(c) for c in zip(*out, strict=True))
        return point, tangent, curvature, s

    @property
    def end_point(self) -> Array:
        """The last point of the centreline, ``(3,) float, mm``."""
        last = self.pieces[-1].segment
        result: Array = last.point(np.array([last.length]))[0]
        return result

    @property
    def length(self) -> float:
        """Of the wire beyond the body, mm."""
        return sum(p.segment.length for p in self.shape.pieces)

    def feet(self, x: Array, closely: bool = False) -> Feet:
        """Return the nearest places of the centreline to points ``(n, 3)``.

        Between strands that touch, the nearest station may be the other strand's: ``closely``
        looks at the next ones too.
        """
        point, tangent, curvature, s = self.stations
        near = self._right_side(self._closest(x) if closely else _nearest(point, x), x)
        low, high = (np.take(room, near) for room in self._room)
        v = x - np.take(point, near, axis=0)
        T, K = np.take(tangent, near, axis=0), np.take(curvature, near, axis=0)
        along, inward = _dot(v, T), _dot(v, K)
        bent = np.take(self._bent, near)
        ds = np.clip(along / np.maximum(1 - inward, 0.2), low, high)
        # the way from the foot is v - T ds - K ds²/2, where T is a unit vector across K
        for _ in range(2):
            square = bent * ds**2
            slope = along - ds + inward * ds - square * ds / 2
            bend = 1 + 1.5 * square - inward
            ds = np.clip(ds + slope / np.maximum(bend, 0.2), low, high)
        # the last station but one reaches as far as the last: one foot, which is the cut end's
        past = np.flatnonzero((near == len(point) - 2) & (ds >= (1 - 1e-9) * high))
        near[past], ds[past], v[past] = len(point) - 1, 0.0, x[past] - point[-1]
        away = v - T * ds[:, None]
        away -= K * (ds**2 / 2)[:, None]
        last = np.flatnonzero(near == len(point) - 1)
        beyond = np.full(len(x), -np.inf)
        beyond[last] = v[last] @ tangent[-1]
        return Feet(near, ds, away, np.take(s, near) + ds, beyond)

    def _closest(self, x: Array) -> Ints:
        """Return the station of those next to each point whose wire lies nearest to it."""
        from scipy.spatial import cKDTree

        point, tangent, curvature, _ = self.stations
        low, high = self._room
        gap, some = cKDTree(point).query(x, k=_NEXT)
        best, least = some[:, 0], np.full(len(x), np.inf)
        for near, off in zip(some.T, gap.T, strict=True):
            v = x - np.take(point, near, axis=0)
            along = _dot(v, np.take(tangent, near, axis=0))
            inward = _dot(v, np.take(curvature, near, axis=0))
            ds = np.clip(
                along / np.maximum(1 - inward, 0.2), np.take(low, near), np.take(high, near)
            )
            square = ds**2
            far = square * (1 - inward + np.take(self._bent, near) * square / 4) - 2 * ds * along
            far += off**2
            nearer = far < least
            best, least = np.where(nearer, near, best), np.where(nearer, far, least)
        result: Ints = best
        return result

    def _right_side(self, near: Ints, x: Array) -> Ints:
        """Return stations such that points at a joint lie on the piece on their side of it."""
        point, tangent, _, _ = self.stations
        ends = np.cumsum(self.counts)[:-1] - 1
        side = np.zeros(len(point), dtype=np.intp)
        side[ends], side[ends + 1] = 1, -1
        step = np.take(side, near)
        at = np.flatnonzero(step)
        along = _dot(x[at] - point[near[at]], tangent[near[at]])
        step[at] *= along * step[at] > 0
        return near + step

    @cached_property
    def _bent(self) -> Array:
        """Square of the curvature at each station, 1/mm²."""
        curvature = self.stations[2]
        return _dot(curvature, curvature)

    @cached_property
    def _room(self) -> tuple[Array, Array]:
        """How far from each station its parabola may be used: not beyond the wire's ends."""
        s = self.stations[3]
        gap = np.diff(s)
        low = -np.concatenate([[0.0], gap])
        high = np.concatenate([gap, [0.0]])
        return low, high

    def displaced(self, feet: Feet, other: EndWire) -> Array | None:
        """Return how far the feet found on this wire lie from there on another, ``(n, 3)``.

        By the same share of the same piece, straight between stations; None where the pieces are
        others.
        """
        if len(self.pieces) != len(other.pieces):
            return None
        points = [
            p.segment.point(np.linspace(0.0, p.segment.length, n))
            for p, n in zip(other.pieces[1:], self.counts[1:], strict=True)
        ]
        own, body = self.stations[0], self.counts[0]
        moved = np.zeros_like(own)  # the body's coils stay where they are
        if points:
            moved[body:] = np.concatenate(points) - own[body:]
        here = np.take(moved, feet.near, axis=0)
        beside, share = self._beside(feet)
        here += (np.take(moved, beside, axis=0) - here) * share[:, None]
        return here

    def _beside(self, feet: Feet) -> tuple[Ints, Array]:
        """Return the station on each foot's other side, and its share of the way to that."""
        low, high = self._room
        back = feet.ds < 0
        gap = np.where(back, np.take(low, feet.near), np.take(high, feet.near))
        share = np.divide(feet.ds, gap, out=np.zeros_like(gap), where=np.abs(gap) > 1e-12)
        beside = np.clip(feet.near + np.where(back, -1, 1), 0, len(self.stations[0]) - 1)
        return beside, share


@dataclass(frozen=True, eq=False)
class Feet:
    """Nearest station, arc length from it (mm), the way from the foot, arc length in all.

    ``beyond`` is how far a point lies past the cut end, where that is its foot, else −inf.
    """

    near: Ints
    ds: Array
    away: Array
    s: Array
    beyond: Array


@lru_cache(maxsize=8)
def _coils(end: BodyEnd) -> Piece:
    """Return the body's last coils, the same for every wire of an end."""
    coils = Helix(radius=end.coil_radius, pitch=end.pitch, turns=BEFORE)
    back = rotation_z(-2 * math.pi * BEFORE), vector(0, 0, -BEFORE * end.pitch)
    return Piece(coils.moved(*back), "body", "body")


@lru_cache(maxsize=32)
def _coil_stations(end: BodyEnd, count: int) -> tuple[Array, Array, Array, Array]:
    seg = _coils(end).segment
    q = np.linspace(0.0, seg.length, count)
    point, tangent, curvature = seg.traced(q)
    return point, tangent, curvature, q - seg.length


def _dot(a: Array, b: Array) -> Array:
    result: Array = np.einsum("nk,nk->n", a, b)
    return result


def _nearest(stations: Array, x: Array) -> Ints:
    """Return the nearest station to each point: of so few all are asked faster than a tree is."""
    square = np.concatenate([-2 * stations.T, _dot(stations, stations)[None]])
    ones = np.column_stack([x, np.ones(len(x))])
    near = np.empty(len(x), dtype=np.intp)
    for i in range(0, len(x), _AT_ONCE):
        np.argmin(ones[i : i + _AT_ONCE] @ square, axis=1, out=near[i : i + _AT_ONCE])
    return near


def _greatest(segment: Segment) -> float:
    """Return the greatest curvature, 1/mm, at a few places: enough to choose a step by."""
    # of arcs and helices one place tells
    n = 1 if isinstance(segment, Arc | Helix) else 9
    curvature = segment.curvature(np.linspace(0.0, segment.length, n))
    return math.sqrt(_dot(curvature, curvature).max())


def off_surface(feet: Feet, tangent: Array, r: float, tip_s: float) -> tuple[Array, Array, Array]:
    """Return how far points lie outside the wire ``(n,)``, and the direction and kind of it.

    The second is the unit vector ``(n, 3)`` along which the distance grows, the third tells
    which points the cut disc is nearest to, rather than the side.
    """
    gone = np.sqrt(_dot(feet.away, feet.away))
    off = gone - r
    n = feet.away / np.maximum(gone, 1e-12)[:, None]
    # behind the disc and inside the wire, or past it
    along = feet.s - tip_s
    past = np.where(np.isfinite(feet.beyond), feet.beyond, along)
    inside = (past <= 0) & (past > off) & (gone < r)
    outside = past > 0
    radial = np.sqrt(np.maximum(gone**2 - past**2, 0.0))
    flat = outside & (radial < r)
    rim = outside & ~flat
    off = np.where(inside | flat, past, off)
    n = np.where((inside | flat)[:, None], tangent, n)
    over = np.maximum(radial - r, 0.0)
    off = np.where(rim, np.hypot(past, over), off)
    return off, n, inside | flat | rim
