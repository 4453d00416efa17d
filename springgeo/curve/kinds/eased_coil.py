"""A coil whose radius, pitch or place drifts from one value to another without a kink."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.polynomial import chebyshev

from springgeo.curve.frame import Array, unit
from springgeo.curve.numeric import NumericSegment

_DEGREE = 48
_NODES = chebyshev.chebpts1(_DEGREE + 1)
# values at these nodes to coefficients: the polynomials are orthogonal over them
_TO_COEFFICIENTS = chebyshev.chebvander(_NODES, _DEGREE).T * (2 / (_DEGREE + 1))
_TO_COEFFICIENTS[0] /= 2
# share of the length within which a place is at an end
_AT_END = 1e-14


class _Along(NamedTuple):
    """Share v of the coil, rad over v, smooth step and slope, radius and slope, angle; slopes."""

    v: Array
    w: float
    step: Array
    slope: Array
    r: Array
    r1: Array
    c: Array
    s: Array
    x1: Array
    y1: Array
    z1: Array


@dataclass(frozen=True, eq=False, kw_only=True)
class EasedCoil(NumericSegment):
    """Right-hand about local +z from local ``(radius, 0, 0)``, joining its neighbours G2.

    Over v in 0..1 (built up to v = ``share``) radius and pitch follow the smooth step
    ``S = v³(10 − 15 v + 6 v²)``, whose first two derivatives vanish at both ends, and ``lift`` mm
    along the axis is added the same way: the coil starts and ends as a helix (a circle for a
    pitch of zero).
    """

    radius: float
    end_radius: float
    pitch: float
    end_pitch: float
    turns: float
    lift: float = 0.0
    share: float = 1.0

    @property
    def rise(self) -> float:
        """Distance along the axis between the ends of the whole coil, mm."""
        return self.turns * (self.pitch + self.end_pitch) / 2 + self.lift

    def _derivatives(self, u: Array) -> tuple[Array, Array, Array]:
        at = self._along(u)
        v, w, r, r1 = at.v, at.w, at.r, at.r1
        bow = 60 * v * (1 - v) * (1 - 2 * v)
        area = v**4 * (2.5 - 3 * v + v**2)
        wider, more = self.end_radius - self.radius, self.end_pitch - self.pitch
        z = self.turns * (self.pitch * v + more * area) + self.lift * at.step
        r2, z2 = wider * bow, self.turns * more * at.slope + self.lift * bow
        point = np.column_stack([r * at.c, r * at.s, z])
        first = np.column_stack([at.x1, at.y1, at.z1])
        turned = r2 - r * w**2
        x2, y2 = turned * at.c - 2 * r1 * w * at.s, turned * at.s + 2 * r1 * w * at.c
        second = np.column_stack([x2, y2, z2])
        return point, self.share * first, self.share**2 * second

    def _speed(self, u: Array) -> Array:
        at = self._along(u)
        x, y, z = self.share * at.x1, self.share * at.y1, self.share * at.z1
        speed: Array = np.sqrt(x**2 + y**2 + z**2)
        return speed

    def _along(self, u: Array) -> _Along:
        """Return where the coil turns and widens, and its slopes over v."""
        v = self.share * u
        w = 2 * math.pi * self.turns
        step = v**3 * (10 - 15 * v + 6 * v**2)
        slope = 30 * v**2 * (1 - v) ** 2
        wider, more = self.end_radius - self.radius, self.end_pitch - self.pitch
        r, r1 = self.radius + wider * step, wider * slope
        z1 = self.turns * (self.pitch + more * step) + self.lift * slope
        c, s = np.cos(w * v), np.sin(w * v)
        return _Along(v, w, step, slope, r, r1, c, s, r1 * c - r * w * s, r1 * s + r * w * c, z1)

    @cached_property
    def _inverse(self) -> Array:
        """Chebyshev coefficients of u over arc length: at rounding error, and fast."""
        u = super()._parameter(self.length * (_NODES + 1) / 2)
        return np.asarray(_TO_COEFFICIENTS @ u, dtype=float)

    def _parameter(self, s: Array) -> Array:
        share = s / self.length
        # the fit is good to 1e-9 on strong tapers; the ends must meet their neighbours exactly
        first, last = share <= _AT_END, share >= 1 - _AT_END
        if (first | last).all():
            return np.where(first, 0.0, 1.0)
        u = np.asarray(chebyshev.chebval(2 * share - 1, self._inverse), dtype=float)
        return np.where(first, 0.0, np.where(last, 1.0, u))

    def _normal(self, s: Array) -> Array:
        a = 2 * math.pi * self.turns * self.share * self._parameter(s)
        outward = np.column_stack([np.cos(a), np.sin(a), np.zeros_like(a)])
        t = self._tangent(s)
        return unit(outward - t * np.sum(outward * t, axis=1, keepdims=True))
