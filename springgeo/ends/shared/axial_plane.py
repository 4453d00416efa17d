"""Drawing in the loop's plane: (u, z) with u across the axis, to segments in space.

u grows away from the side at which the wire leaves the coil; the plane holds the axis and has
the azimuth β of that side, so that a point is (−u cos β, −u sin β, z).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve import Arc, Frame, Line
from springgeo.curve.frame import Array, cross, vector


@dataclass(frozen=True)
class AxialPlane:
    """The plane through the axis at azimuth ``azimuth`` rad, or beside it by ``aside`` mm.

    ``aside`` counts toward growing azimuth less a quarter turn: the tangent plane at P has the
    azimuth π/2 and stands ``R`` aside.
    """

    azimuth: float
    aside: float = 0.0

    def _u(self) -> Array:
        return vector(-math.cos(self.azimuth), -math.sin(self.azimuth), 0.0)

    @property
    def normal(self) -> Array:
        """The direction in which ``aside`` counts, ``(3,) float``."""
        return vector(math.sin(self.azimuth), -math.cos(self.azimuth), 0.0)

    def point(self, u: float, z: float) -> Array:
        """Return the point ``(3,) float, mm``."""
        c, s = math.cos(self.azimuth), math.sin(self.azimuth)
        return u * self._u() + vector(self.aside * s, -self.aside * c, z)

    def line(self, start: tuple[float, float], end: tuple[float, float]) -> Line:
        """Return the straight wire between two points of the plane, mm."""
        return Line.between(self.point(*start), self.point(*end))

    def arc(self, centre: tuple[float, float], radius: float, start: float, angle: float) -> Arc:
        """Return the arc from polar angle ``start`` (rad, from +u toward +z) by ``angle``.

        A positive ``angle`` turns from +u toward +z, a negative one the other way.
        """
        u, z = self._u(), vector(0.0, 0.0, 1.0)
        x = math.cos(start) * u + math.sin(start) * z
        y = -math.sin(start) * u + math.cos(start) * z
        y = y if angle > 0 else -y
        axes = np.column_stack([x, y, cross(x, y)])
        return Arc(frame=Frame(self.point(*centre), axes), radius=radius, angle=abs(angle))
