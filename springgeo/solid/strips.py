"""From the centreline to the strips of its tube: which surface each segment gets."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from springgeo.curve import Arc, Helix, Line, Path, Segment
from springgeo.curve.frame import Array
from springgeo.solid.strip import Strip
from springgeo.solid.strip_elementary import arc_strips, line_strips
from springgeo.solid.strip_spline import helix_strips, spline_strips
from springgeo.solid.tube_spline import frames

# two seams nearer than this on a joint are one (rad), nearer than that leave too short an edge
_SAME_SEAM = 1e-9
_APART = 0.01


def tube_strips(path: Path, radius: float) -> list[Strip]:
    """Return the strips of the tube of ``radius`` mm, in order along the wire."""
    return [strip for strips in _by_piece(path, radius) for strip in strips]


def face_starts(path: Path, radius: float) -> Array:
    """Return the arc lengths at which the curved faces of a tube begin, ``(n,) float, mm``."""
    parts = [
        np.linspace(start, start + piece.segment.length, len(strips), endpoint=False)
        for (piece, start), strips in zip(path, _by_piece(path, radius), strict=True)
    ]
    return np.concatenate(parts)


@lru_cache(maxsize=1)
def _by_piece(path: Path, radius: float) -> tuple[tuple[Strip, ...], ...]:
    """Return the strips of each piece; kept for who asks where the faces of a solid lie.

    Frames are carried from one segment to the next, so that seams meet; only a torus, whose
    seam has a fixed place, may begin with its seam elsewhere.
    """
    found: list[tuple[Strip, ...]] = []
    for piece in path.pieces:
        segment = piece.segment
        turn = seam_angle(found[-1][-1].end, _first(segment)) if found else 0.0
        found.append(tuple(_strips(segment, turn, radius)))
    return tuple(found)


def seam_angle(before: Array, after: Array) -> float:
    """Return the angle φ, in the frame ``after``, at which the seam of ``before`` arrives, rad.

    Between −π and π; zero where the two seams are one. Frames as in ``Strip.start``.
    """
    angle = math.atan2(float(before[1] @ after[2]), float(before[1] @ after[1]))
    return 0.0 if abs(angle) < _SAME_SEAM else angle


def _first(segment: Segment) -> Array:
    first: Array = frames(segment, np.zeros(1), 0.0)[0]
    return first


def _strips(segment: Segment, turn: float, radius: float) -> list[Strip]:
    if isinstance(segment, Line):
        return line_strips(segment, turn, radius)
    if isinstance(segment, Helix):
        return helix_strips(segment, turn, radius)
    if isinstance(segment, Arc) and _torus_fits(segment, turn, radius):
        return arc_strips(segment, radius)
    return spline_strips(segment, turn, radius)


def _torus_fits(arc: Arc, turn: float, radius: float) -> bool:
    proper = arc.radius > radius * (1 + 1e-6)
    return proper and (turn == 0.0 or abs(turn) > _APART)
