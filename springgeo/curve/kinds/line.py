"""A straight piece of wire."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array, Frame, cross, unit
from springgeo.curve.segment import Segment


@dataclass(frozen=True, eq=False, kw_only=True)
class Line(Segment):
    """From the local origin along local +x for ``span`` mm."""

    span: float

    @classmethod
    def between(cls, start: Array, end: Array) -> Line:
        """Return the line from ``start`` to ``end``, both ``(3,) float, mm``."""
        span = float(np.linalg.norm(end - start))
        x = unit(end - start)
        aside = np.eye(3)[int(np.argmin(np.abs(x)))]
        y = unit(cross(aside, x))
        return cls(frame=Frame(start, np.column_stack([x, y, cross(x, y)])), span=span)

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return self.span

    def _point(self, s: Array) -> Array:
        return np.outer(s, [1.0, 0.0, 0.0])

    def _tangent(self, s: Array) -> Array:
        return np.tile([1.0, 0.0, 0.0], (len(s), 1))

    def _curvature(self, s: Array) -> Array:
        return np.zeros((len(s), 3))

    def _normal(self, s: Array) -> Array:
        return np.tile([0.0, 1.0, 0.0], (len(s), 1))
