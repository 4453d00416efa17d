"""Distance of points from the wire of one end: stations on its centreline, each with a parabola."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from springgeo.curve import Arc, Helix, Line, Piece, Segment
from springgeo.curve.frame import Array, rotation_z, vector
from springgeo.ends.protocol import BodyEnd, EndShape

# turns of body that the wire of an end begins with
BEFORE = 2.5
# stations looked at where two strands may be near: two of each
_NEXT = 4


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
        coils = Helix(radius=self.end.coil_radius, pitch=self.end.pitch, turns=BEFORE)
        back = rotation_z(-2 * math.pi * BEFORE), vector(0, 0, -BEFORE * self.end.pitch)
        return (Piece(coils.moved(*back), "body", "body"), *self.shape.pieces)

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
        out: list[tuple[Array, ...]] = []
        start = -self.pieces[0].segment.length
        for piece, n in zip(self.pieces, counts, strict=True):
            seg = piece.segment
            q = np.linspace(0.0, seg.length, n)
            out.append((seg.point(q), seg.tangent(q), seg.curvature(q), start + q))
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
        from scipy.spatial import cKDTree

        point, tangent, curvature, s = self.stations
        _, near = cKDTree(point).query(x, k=_NEXT if closely else 1)
        if closely:
            near = self._nearest(near, x)
        near = self._right_side(near, np.einsum("nk,nk->n", x - point[near], tangent[near]))
        T, K = tangent[near], curvature[near]
        v = x - point[near]
        along = np.einsum("nk,nk->n", v, T) / np.maximum(1 - np.einsum("nk,nk->n", v, K), 0.2)
        low, high = self._room
        ds = np.clip(along, low[near], high[near])
        for _ in range(2):
            away = v - _moved(T, K, ds)
            turned = T + K * ds[:, None]
            slope = np.einsum("nk,nk->n", away, turned)
            bend = np.einsum("nk,nk->n", turned, turned) - np.einsum("nk,nk->n", away, K)
            ds = np.clip(ds + slope / np.maximum(bend, 0.2), low[near], high[near])
        # the last station but one reaches as far as the last: one foot, which is the cut end's
        past = (near == len(point) - 2) & (ds >= (1 - 1e-9) * high[near])
        near, ds = np.where(past, len(point) - 1, near), np.where(past, 0.0, ds)
        T, K, v = tangent[near], curvature[near], x - point[near]
        away = v - _moved(T, K, ds)
        last = near == len(point) - 1
        beyond = np.where(last, np.maximum(np.einsum("nk,nk->n", v, T), -np.inf), -np.inf)
        return Feet(near, ds, away, s[near] + ds, beyond)

    def _nearest(
        self, near: np.ndarray[tuple[int, int], np.dtype[np.intp]], x: Array
    ) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
        """Return of several stations ``(n, k)`` the one whose wire lies nearest to each point."""
        point, tangent, curvature, _ = self.stations
        T, K, v = tangent[near], curvature[near], x[:, None] - point[near]
        low, high = self._room
        along = np.einsum("nik,nik->ni", v, T)
        along /= np.maximum(1 - np.einsum("nik,nik->ni", v, K), 0.2)
        ds = np.clip(along, low[near], high[near])[:, :, None]
        away = v - T * ds - K * (ds**2 / 2)
        best = np.argmin(np.einsum("nik,nik->ni", away, away), axis=1)
        result: np.ndarray[tuple[int], np.dtype[np.intp]] = near[np.arange(len(x)), best]
        return result

    def _right_side(
        self, near: np.ndarray[tuple[int], np.dtype[np.intp]], along: Array
    ) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
        """Return stations such that points at a joint lie on the piece on their side of it."""
        ends = np.cumsum(self.counts)[:-1] - 1
        last, first = np.zeros(sum(self.counts), dtype=bool), np.zeros(sum(self.counts), dtype=bool)
        last[ends], first[ends + 1] = True, True
        return near + (last[near] & (along > 0)) - (first[near] & (along < 0))

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
        own = self.stations[0]
        moved = np.zeros_like(own)  # the body's coils stay where they are
        if points:
            moved[self.counts[0] :] = np.concatenate(points) - own[self.counts[0] :]
        low, high = self._room
        back = feet.ds < 0
        gap = np.where(back, low[feet.near], high[feet.near])
        share = np.divide(feet.ds, gap, out=np.zeros_like(gap), where=np.abs(gap) > 1e-12)
        here = moved[feet.near]
        beside = moved[np.clip(feet.near + np.where(back, -1, 1), 0, len(own) - 1)]
        result: Array = here + (beside - here) * share[:, None]
        return result


@dataclass(frozen=True, eq=False)
class Feet:
    """Nearest station, arc length from it (mm), the way from the foot, arc length in all.

    ``beyond`` is how far a point lies past the cut end, where that is its foot, else −inf.
    """

    near: np.ndarray[tuple[int], np.dtype[np.intp]]
    ds: Array
    away: Array
    s: Array
    beyond: Array


def _moved(tangent: Array, curvature: Array, ds: Array) -> Array:
    result: Array = tangent * ds[:, None] + curvature * (ds**2 / 2)[:, None]
    return result


def _greatest(segment: Segment) -> float:
    """Return the greatest curvature at a few places, 1/mm: enough to choose a step by."""
    s = np.linspace(0.0, segment.length, 2 if isinstance(segment, Arc | Helix) else 9)
    return float(np.sqrt((segment.curvature(s) ** 2).sum(axis=1).max()))


def off_surface(feet: Feet, tangent: Array, r: float, tip_s: float) -> tuple[Array, Array, Array]:
    """Return how far points lie outside the wire ``(n,)``, and the direction and kind of it.

    The second is the unit vector ``(n, 3)`` along which the distance grows, the third tells
    which points the cut disc is nearest to, rather than the side.
    """
    gone = np.linalg.norm(feet.away, axis=1)
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
