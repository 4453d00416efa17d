"""Hexahedra swept along the centreline."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.elements.o_grid import Ints, Section, polygon

Order = Literal[1, 2]

# corners, then middles of the edges of a 20-node hexahedron: node of the 9-node quadrilateral,
# station 0 to 2
_FACE, _SIDES = [0, 1, 2, 3], [4, 5, 6, 7]
NODES20 = np.array(
    [_FACE * 2 + _SIDES * 2 + _FACE, [0] * 4 + [2] * 4 + [0] * 4 + [2] * 4 + [1] * 4]
).T
LOCAL9 = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1], [0, -1], [1, 0], [0, 1], [-1, 0], [0, 0]])
LOCAL20 = np.column_stack([LOCAL9[NODES20[:, 0]], NODES20[:, 1] - 1]).astype(float)
# nodes of the faces of a hexahedron, corners first, seen from outside counter-clockwise: both
# sections, then the sides of the quadrilateral
FACES = (
    (0, 3, 2, 1, 11, 10, 9, 8),
    (4, 5, 6, 7, 12, 13, 14, 15),
    (0, 1, 5, 4, 8, 17, 12, 16),
    (1, 2, 6, 5, 9, 18, 13, 17),
    (2, 3, 7, 6, 10, 19, 14, 18),
    (3, 0, 4, 7, 11, 16, 15, 19),
)


@dataclass(frozen=True, eq=False)
class Swept:
    """A wire of ``diameter`` mm in hexahedra, its sections across the centreline.

    ``edges`` (n + 1,), mm: arc lengths between the layers of elements. ``order`` 1 or 2: eight
    or twenty nodes to an element. With eight the rim is a polygon of the wire's own area, so
    that its rate is about right: corners stand out a little.
    """

    path: Path
    diameter: float
    section: Section
    edges: Array
    order: Order = 2

    @cached_property
    def stations(self) -> Array:
        """Arc lengths of the rows of nodes, mm: ends and middles of layers."""
        return np.sort(np.concatenate([self.edges, (self.edges[1:] + self.edges[:-1]) / 2]))

    @cached_property
    def _grid(self) -> Ints:
        """Elements by the grid of stations and section nodes, ``(n, 8 or 20)``."""
        first = 2 * np.arange(len(self.edges) - 1)[:, None, None] + NODES20[:, 1]
        grid = first * len(self.section.flat) + self.section.quads[:, NODES20[:, 0]]
        flat: Ints = grid.reshape(-1, 20)[:, : 8 if self.order == 1 else 20]
        return flat

    @cached_property
    def _used(self) -> Ints:
        return np.unique(self._grid)

    @cached_property
    def elements(self) -> Ints:
        """Nodes of every element, ``(n, 8 or 20) int``, from 0; layer by layer."""
        found: Ints = np.searchsorted(self._used, self._grid)
        return found

    @cached_property
    def nodes(self) -> Array:
        """Places of the nodes, ``(m, 3) float, mm``."""
        station, place = np.divmod(self._used, len(self.section.flat))
        rows, row = np.unique(station, return_inverse=True)
        s = self.stations[rows]
        normal = self.path.normal(s)
        axes = np.stack([normal, np.cross(self.path.tangent(s), normal)], axis=1)
        across = self.radius * self.section.flat[place]
        result: Array = self.path.point(s)[row] + np.einsum("mi,mij->mj", across, axes[row])
        return result

    @property
    def radius(self) -> float:
        """Distance of the rim's corners from the centreline, mm."""
        corners = len(self.section.rim[0])
        return self.diameter / 2 / (math.sqrt(polygon(corners)) if self.order == 1 else 1.0)

    @cached_property
    def piece(self) -> Ints:
        """Which piece of the path each element belongs to, ``(n,) int``."""
        middle = (self.edges[1:] + self.edges[:-1]) / 2
        return np.repeat(self.path.find(middle), len(self.section.quads))

    @cached_property
    def surface(self) -> tuple[Ints, Ints]:
        """Elements with a face on the wire's surface, and which of ``FACES``; each ``(m,)``."""
        per, count = len(self.section.quads), len(self.edges) - 1
        quad, side = self.section.rim
        layer = np.arange(count)[:, None] * per
        ends = np.arange(per)
        element = np.concatenate([ends, (layer + quad).ravel(), ends + (count - 1) * per])
        zero = np.zeros(per, dtype=np.intp)
        face = np.concatenate([zero, np.tile(side + 2, count), zero + 1])
        return element, face

    @property
    def surface_nodes(self) -> Ints:
        """Nodes of the faces on the surface, ``(m, 4 or 8) int``, outward counter-clockwise."""
        element, face = self.surface
        which = np.array(FACES)[:, : 4 if self.order == 1 else 8]
        found: Ints = self.elements[element[:, None], which[face]]
        return found

    def at(self, s: float) -> tuple[Ints, Array]:
        """Return the nodes of the section at a cut, and the share of each in its mean.

        ``(k,) int`` and ``(k,) float``; ``s`` is one of ``edges``, mm.
        """
        station = 2 * int(np.argmin(np.abs(self.edges - s)))
        second = self.order == 2
        own = self.section.corners_and_sides if second else self.section.corners
        weight = (self.section.weights if second else self.section.corner_weights)[own]
        nodes: Ints = np.searchsorted(self._used, station * len(self.section.flat) + own)
        return nodes, weight

    def between(self, low: float, high: float) -> Ints:
        """Return the nodes of the wire between two arc lengths, mm, in rising order."""
        slack = 1e-9 * self.path.length
        s = self.stations[self._used // len(self.section.flat)]
        found: Ints = np.flatnonzero((s >= low - slack) & (s <= high + slack))
        return found
