"""Shapes the wire may meet, each as its exact signed distance from points in space.

Outside a shape the distance is Euclidean and exact; inside it is the depth below the surface,
negative.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np

from springgeo.curve.frame import Array, Frame, unit


class Obstacle(Protocol):
    """A solid described by its distance."""

    def distance(self, point: Array) -> Array:
        """Return signed distances ``(n,) float, mm`` of points ``(n, 3) float, mm``."""
        ...


@dataclass(frozen=True, eq=False)
class Cylinder:
    """A cylinder of ``length`` mm centred on ``centre``; ``length`` inf: without ends."""

    centre: Array
    axis: Array
    radius: float
    length: float = float("inf")

    @cached_property
    def _along(self) -> Array:
        return unit(self.axis)

    def distance(self, point: Array) -> Array:
        """Return signed distances ``(n,)``, mm."""
        along, out = _split(point - self.centre, self._along)
        if self.length == float("inf"):
            return out - self.radius
        return extruded(out - self.radius, np.abs(along) - self.length / 2)


@dataclass(frozen=True, eq=False)
class Tube:
    """The material round an endless round bore: what lies further than ``radius`` mm out."""

    centre: Array
    axis: Array
    radius: float

    def distance(self, point: Array) -> Array:
        """Return signed distances ``(n,)``, mm."""
        _, out = _split(point - self.centre, unit(self.axis))
        return self.radius - out


@dataclass(frozen=True, eq=False)
class HalfSpace:
    """Everything behind the plane through ``origin``; ``normal`` points out of it."""

    origin: Array
    normal: Array

    def distance(self, point: Array) -> Array:
        """Return signed distances ``(n,)``, mm."""
        result: Array = (point - self.origin) @ unit(self.normal)
        return result


@dataclass(frozen=True, eq=False)
class HolePlate:
    """A square plate of half width ``edge`` mm round a hole of ``radius`` mm.

    ``centre`` is the middle of the hole; ``axes`` ``(3, 3)`` has the hole's axis as first column,
    the plate's own directions as the others.
    """

    centre: Array
    axes: Array
    radius: float
    thickness: float
    edge: float

    def distance(self, point: Array) -> Array:
        """Return signed distances ``(n,)``, mm."""
        local = (point - self.centre) @ self.axes
        square = extruded(np.abs(local[:, 1]) - self.edge, np.abs(local[:, 2]) - self.edge)
        hole = self.radius - np.hypot(local[:, 1], local[:, 2])
        return extruded(np.maximum(square, hole), np.abs(local[:, 0]) - self.thickness / 2)


@dataclass(frozen=True, eq=False)
class Union:
    """Several obstacles as one; inside an overlap the depth is that of the deepest."""

    parts: tuple[Obstacle, ...]

    def distance(self, point: Array) -> Array:
        """Return signed distances ``(n,)``, mm."""
        result: Array = np.min([p.distance(point) for p in self.parts], axis=0)
        return result


@dataclass(frozen=True, eq=False)
class Moved:
    """An obstacle given in a frame of its own."""

    part: Obstacle
    frame: Frame

    def distance(self, point: Array) -> Array:
        """Return signed distances ``(n,)``, mm."""
        return self.part.distance(self.frame.to_local(point))


def extruded(profile: Array, face: Array) -> Array:
    """Return the signed distance of a profile extruded between faces.

    ``profile``: signed distance within the plane; ``face``: distance beyond the nearer face;
    both ``(n,) float, mm``.
    """
    deeper = np.maximum(profile, face)
    beyond, aside = np.maximum(profile, 0.0), np.maximum(face, 0.0)
    result: Array = np.sqrt(beyond * beyond + aside * aside) + np.minimum(deeper, 0.0)
    return result


def _split(offset: Array, axis: Array) -> tuple[Array, Array]:
    along = offset @ axis
    across = offset - along[:, None] * axis
    out: Array = np.sqrt(np.einsum("nk,nk->n", across, across))
    return along, out
