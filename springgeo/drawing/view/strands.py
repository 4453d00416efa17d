"""Cuts a centreline, seen from one side, into strands that never double back on themselves."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array

_STEP_DEG = 3.0


@dataclass(frozen=True, eq=False)
class Sight:
    """A direction of view: where right, up and the viewer are, unit vectors ``(3,)``."""

    right: Array
    up: Array
    to_viewer: Array

    @classmethod
    def of(cls, right: tuple[float, ...], up: tuple[float, ...]) -> Sight:
        """Return the sight with the paper's right and up along two directions of space."""
        r, u = np.asarray(right, dtype=float), np.asarray(up, dtype=float)
        return cls(r, u, np.cross(r, u))

    def flat(self, points: Array) -> Array:
        """Return ``(n, 2) float, mm`` on the paper for ``(n, 3)`` in space."""
        return np.stack([points @ self.right, points @ self.up], axis=-1)


@dataclass(frozen=True)
class Strand:
    """A run of the wire that is monotone on the paper: points ``(n, 2)``, depth ``(n,)``, mm.

    Depth grows toward the viewer. ``cut_start`` and ``cut_end`` mark the wire's own two ends.
    """

    points: Array
    depth: Array
    cut_start: bool
    cut_end: bool


def centreline_points(path: Path) -> tuple[Array, Array]:
    """Return stations ``(n, 3) float, mm`` and unit tangents, fine where the wire bends."""
    points: list[Array] = []
    tangents: list[Array] = []
    for piece in path.pieces:
        length = piece.segment.length
        bend = float(np.linalg.norm(piece.segment.curvature(np.array([length / 2]))[0]))
        n = max(2, int(np.ceil(np.degrees(length * bend) / _STEP_DEG)) + 1)
        q = np.linspace(0.0, length, n)
        first = 1 if points else 0
        points.append(piece.segment.point(q)[first:])
        tangents.append(piece.segment.tangent(q)[first:])
    return np.concatenate(points), np.concatenate(tangents)


def strands(points: Array, sight: Sight) -> list[Strand]:
    """Return the wire cut at every turning point of its picture, from end A to end B.

    A turning point is where it stops going right and goes left, or up and goes down; there
    the wire may pass from the near side to the far side.
    """
    flat, depth = sight.flat(points), points @ sight.to_viewer
    cuts = sorted({0, len(flat) - 1} | _turns(flat[:, 0]) | _turns(flat[:, 1]))
    last = len(cuts) - 2
    return [
        Strand(flat[i : j + 1], depth[i : j + 1], k == 0, k == last)
        for k, (i, j) in enumerate(pairwise(cuts))
    ]


def _turns(x: Array) -> set[int]:
    """Return the indices at which a sequence changes direction, rounding noise aside."""
    step = np.diff(x)
    moving = np.flatnonzero(np.abs(step) > 1e-7 * max(float(np.ptp(x)), 1e-9))
    sign = np.sign(step[moving])
    change = np.flatnonzero(sign[1:] != sign[:-1])
    return {int(moving[k + 1]) for k in change}
