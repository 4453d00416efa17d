"""A bend that stays on the coil's own cylinder: an arc in the plane the cylinder unrolls to."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.segment import Segment


@dataclass(frozen=True, eq=False, kw_only=True)
class CylinderBend(Segment):
    """From local ``(R, 0, 0)``, turning from slope ``start`` up to slope ``end``.

    The slope ψ is the angle of the wire to the plane across the axis. Unrolling keeps lengths,
    so the arc length is exact: ``bend_radius · (end − start)``. In space the curvature is
    ``√(1/r² + cos⁴ψ/R²)``: the bend in the unrolled plane plus the cylinder's own.

    Attributes
    ----------
    radius : float, mm
        Of the cylinder.
    bend_radius : float, mm
        In the unrolled plane.
    start, end : float, rad
        ``end > start``.
    """

    radius: float
    bend_radius: float
    start: float
    end: float

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return self.bend_radius * (self.end - self.start)

    @property
    def swept_azimuth(self) -> float:
        """Angle about the axis between the two ends, rad."""
        return self.bend_radius * (math.sin(self.end) - math.sin(self.start)) / self.radius

    @property
    def rise(self) -> float:
        """Distance along the axis between the two ends, mm."""
        return self.bend_radius * (math.cos(self.start) - math.cos(self.end))

    @property
    def max_curvature(self) -> float:
        """Greatest curvature, 1/mm: where the wire lies flattest."""
        flattest = 0.0 if self.start * self.end <= 0 else min(abs(self.start), abs(self.end))
        return math.hypot(1 / self.bend_radius, math.cos(flattest) ** 2 / self.radius)

    def _around(self, s: Array) -> tuple[Array, Array, Array, Array]:
        slope = self.start + s / self.bend_radius
        a = self.bend_radius * (np.sin(slope) - math.sin(self.start)) / self.radius
        zero = np.zeros_like(a)
        outward = np.column_stack([np.cos(a), np.sin(a), zero])
        along = np.column_stack([-np.sin(a), np.cos(a), zero])
        return outward, along, np.cos(slope)[:, None], np.sin(slope)[:, None]

    def _point(self, s: Array) -> Array:
        outward, _, cos_slope, _ = self._around(s)
        p = self.radius * outward
        p[:, 2] = self.bend_radius * (math.cos(self.start) - cos_slope[:, 0])
        return p

    def _tangent(self, s: Array) -> Array:
        _, along, cos_slope, sin_slope = self._around(s)
        return cos_slope * along + sin_slope * [0.0, 0.0, 1.0]

    def _curvature(self, s: Array) -> Array:
        outward, along, cos_slope, sin_slope = self._around(s)
        bend = (cos_slope * [0.0, 0.0, 1.0] - sin_slope * along) / self.bend_radius
        return bend - outward * cos_slope**2 / self.radius

    def _normal(self, s: Array) -> Array:
        return self._around(s)[0]
