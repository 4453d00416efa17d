"""A circular arc: loops, and bends in a plane."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array, Frame, cross, unit
from springgeo.curve.segment import Segment


@dataclass(frozen=True, eq=False, kw_only=True)
class Arc(Segment):
    """Round the local origin from local +x toward local +y, ``radius`` mm by ``angle`` rad."""

    radius: float
    angle: float

    @classmethod
    def leaving(
        cls, start: Array, tangent: Array, toward: Array, radius: float, angle: float
    ) -> Arc:
        """Return the arc that leaves ``start`` along ``tangent`` and bends ``toward`` a side.

        Only the part of ``toward`` across the tangent counts. All vectors ``(3,) float``.
        """
        t = unit(tangent)
        inward = unit(toward - t * float(toward @ t))
        centre = start + radius * inward
        axes = np.column_stack([-inward, t, cross(-inward, t)])
        return cls(frame=Frame(centre, axes), radius=radius, angle=angle)

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return self.radius * self.angle

    def _outward(self, s: Array) -> Array:
        a = s / self.radius
        out = np.zeros((len(a), 3))
        out[:, 0], out[:, 1] = np.cos(a), np.sin(a)
        return out

    def _point(self, s: Array) -> Array:
        return self.radius * self._outward(s)

    def _tangent(self, s: Array) -> Array:
        a = s / self.radius
        return np.column_stack([-np.sin(a), np.cos(a), np.zeros_like(a)])

    def _curvature(self, s: Array) -> Array:
        return -self._outward(s) / self.radius

    def _normal(self, s: Array) -> Array:
        return self._outward(s)
