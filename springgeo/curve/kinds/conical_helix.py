"""Coils of falling diameter: a helix on a cone."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array, unit
from springgeo.curve.numeric import NumericSegment


@dataclass(frozen=True, eq=False, kw_only=True)
class ConicalHelix(NumericSegment):
    """Right-hand about local +z, radius going evenly from ``radius`` to ``end_radius``."""

    radius: float
    end_radius: float
    pitch: float
    turns: float

    def _derivatives(self, u: Array) -> tuple[Array, Array, Array]:
        w = 2 * math.pi * self.turns
        a = w * u
        zero = np.zeros_like(a)
        r = (self.radius + (self.end_radius - self.radius) * u)[:, None]
        dr = self.end_radius - self.radius
        outward = np.column_stack([np.cos(a), np.sin(a), zero])
        along = np.column_stack([-np.sin(a), np.cos(a), zero])
        axis = np.array([0.0, 0.0, self.pitch * self.turns])
        point = r * outward + u[:, None] * axis
        first = dr * outward + w * r * along + axis
        second = 2 * w * dr * along - w**2 * r * outward
        return point, first, second

    def _normal(self, s: Array) -> Array:
        u = self._parameter(s)
        a = 2 * math.pi * self.turns * u
        outward = np.column_stack([np.cos(a), np.sin(a), np.zeros_like(a)])
        t = self._tangent(s)
        across = outward - t * np.sum(outward * t, axis=1, keepdims=True)
        return unit(across)
