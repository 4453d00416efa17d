"""The coiled body: a helix of constant pitch, and how close its turns lie."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.segment import Segment

# the first root of tan x = x beyond π: at that many rad along the helix the distance to its start
# has a least value while (p / 2πR)² is below -cos x
_LAST = 4.493409457909064
_STEEPEST = -math.cos(_LAST)


@dataclass(frozen=True, eq=False, kw_only=True)
class Helix(Segment):
    """Right-hand helix about local +z from local ``(radius, 0, 0)``, ``turns`` turns."""

    radius: float
    pitch: float
    turns: float

    @property
    def turn_length(self) -> float:
        """Wire length of one turn, mm."""
        return math.hypot(2 * math.pi * self.radius, self.pitch)

    @property
    def lead_angle(self) -> float:
        """Angle of the wire to the plane across the axis, rad."""
        return lead_angle(self.radius, self.pitch)

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return self.turns * self.turn_length

    def _azimuth(self, s: Array) -> Array:
        return 2 * math.pi * s / self.turn_length

    def _outward(self, s: Array) -> Array:
        a = self._azimuth(s)
        out = np.zeros((len(a), 3))
        out[:, 0], out[:, 1] = np.cos(a), np.sin(a)
        return out

    def _point(self, s: Array) -> Array:
        p = self.radius * self._outward(s)
        p[:, 2] = self.pitch * s / self.turn_length
        return p

    def _tangent(self, s: Array) -> Array:
        a, lead = self._azimuth(s), self.lead_angle
        c = math.cos(lead)
        return np.column_stack([-c * np.sin(a), c * np.cos(a), np.full_like(a, math.sin(lead))])

    def _curvature(self, s: Array) -> Array:
        return -self._outward(s) * (math.cos(self.lead_angle) ** 2 / self.radius)

    def _normal(self, s: Array) -> Array:
        return self._outward(s)


def lead_angle(radius: float, pitch: float) -> float:
    """Return atan(p / 2πR), rad: the lead angle of a helix."""
    return math.atan2(pitch, 2 * math.pi * radius)


def turn_offset(radius: float, pitch: float) -> float:
    """Return the azimuth, rad, by which the nearest point of the next turn falls short of it.

    Newton's method on the square of the distance at the offset ``t``,
    ``2R²(1 − cos t) + (p − p t/2π)²``, which from zero on never passes the root. On a helix
    steeper than a pitch of 2.93 R nothing of the next turn is nearest, the distance only grows
    along the wire: the last place that was nearest is kept.
    """
    slope = pitch / (2 * math.pi)
    if slope**2 >= _STEEPEST * radius**2:
        return 2 * math.pi - _LAST
    t = 0.0
    for _ in range(60):
        first = radius**2 * math.sin(t) - slope * (pitch - slope * t)
        second = radius**2 * math.cos(t) + slope**2
        step = first / second
        t -= step
        if abs(step) < 1e-15:
            break
    return t


def turn_distance(radius: float, pitch: float) -> float:
    """Return the least distance, mm, between neighbouring turns' centrelines.

    A little less than the pitch, since the nearest point lies across the wire and not along
    the axis.
    """
    t = turn_offset(radius, pitch)
    return math.hypot(2 * radius * math.sin(t / 2), pitch * (1 - t / (2 * math.pi)))


def pitch_for_distance(radius: float, distance: float) -> float:
    """Return the pitch, mm, at which neighbouring turns' centrelines are ``distance`` apart."""
    pitch = distance
    for _ in range(60):  # a contraction: the distance is nearly proportional to the pitch
        error = distance - turn_distance(radius, pitch)
        pitch += error
        if abs(error) < 1e-14 * distance:
            break
    return pitch
