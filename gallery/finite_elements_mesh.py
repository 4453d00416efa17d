"""A centreline swept into quadratic hexahedra; used by ``finite_elements.py``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path
from springgeo.elements.along import layers
from springgeo.elements.choice import CORE_WIDTH
from springgeo.elements.o_grid import Section
from springgeo.elements.quality import GAUSS2, jacobians, shape
from springgeo.elements.swept import LOCAL9, NODES20
from springgeo.statics.contacts import Contacts

Array = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]

# of the middle nodes of a quadrilateral's corners and sides
LOCAL2 = LOCAL9[:8]
GAUSS = GAUSS2


@dataclass(frozen=True, eq=False)
class Model:
    """A swept mesh: ``nodes (stations, p, 3)``, two stations to a layer of ``quads (q, 9)``."""

    path: Path
    diameter: float
    contacts: Contacts
    flat: Array
    quads: Ints
    edges: Array
    nodes: Array

    @classmethod
    def of(cls, path: Path, diameter: float, contacts: Contacts, n: int) -> Model:
        """Mesh the whole wire, cut ends included."""
        section = Section.of(n)
        flat, quads = section.flat, section.quads
        edges = layers(path, diameter, CORE_WIDTH * diameter / n, (contacts.s_a, contacts.s_b))
        s = np.sort(np.concatenate([edges, (edges[1:] + edges[:-1]) / 2]))
        normal = path.normal(s)
        axes = np.stack([normal, np.cross(path.tangent(s), normal)], axis=1)
        nodes = path.point(s)[:, None] + diameter / 2 * np.einsum("pi,sij->spj", flat, axes)
        return cls(path, diameter, contacts, flat, quads, edges, nodes)

    @cached_property
    def elements(self) -> Ints:
        """Node numbers of the 20-node hexahedra, ``(layers · q, 20)``; layer by layer."""
        first = 2 * np.arange(len(self.edges) - 1)[:, None, None] + NODES20[:, 1]
        return (first * len(self.flat) + self.quads[:, NODES20[:, 0]]).reshape(-1, 20)

    @property
    def xyz(self) -> Array:
        """Positions by node number."""
        return self.nodes.reshape(-1, 3)

    def jacobians(self, local: Array) -> Array:
        """Return the determinants at local points ``(g, 3)`` of every element, ``(e, g)``."""
        return jacobians(self.xyz, self.elements, local)

    @property
    def volume(self) -> float:
        """Volume of the mesh, mm³."""
        x, w = np.polynomial.legendre.leggauss(3)
        grid = np.stack(np.meshgrid(x, x, x), axis=-1).reshape(-1, 3)
        return float(np.sum(self.jacobians(grid) @ np.einsum("i,j,k->ijk", w, w, w).ravel()))

    def forces(self, F: float) -> dict[int, Array]:
        """Return the force on each loaded node: resultant ``±F`` through each contact."""
        weight = Section(self.flat, self.quads).weights
        out: dict[int, Array] = {}
        c = self.contacts
        for s, point, sign in ((c.s_a, c.point_a, -1), (c.s_b, c.point_b, 1)):
            station = 2 * int(np.argmin(np.abs(self.edges - s)))
            off = float(np.abs(weight @ self.nodes[station] - point).max())
            if off > 1e-9 * self.diameter:
                raise SystemExit(f"the load misses the contact point by {off:.2g} mm")
            for i in np.flatnonzero(weight):
                out[station * len(self.flat) + int(i)] = sign * F * weight[i] * c.direction
        return out

    def supports(self) -> list[tuple[int, int]]:
        """Return six (node, axis) pairs that hold the body without constraining it."""
        ids = np.unique(self.elements[:, :8])
        x = self.xyz[ids] - self.xyz[ids[0]]
        line = x[far := int(np.argmax(np.sum(x * x, axis=1)))]
        across = np.cross(line, x)
        third = int(np.argmax(np.sum(across * across, axis=1)))
        along = int(np.argmax(np.abs(line)))
        rest = [k for k in range(3) if k != along]
        last = max(rest, key=lambda k: abs(across[third, k]))
        pairs = [(0, 0), (0, 1), (0, 2), *((far, k) for k in rest), (third, last)]
        return [(int(ids[i]), k) for i, k in pairs]


def shape20(local: Array) -> Array:
    """Return the 20 serendipity shape functions at local points ``(g, 3)``, ``(g, 20)``."""
    return shape(local, 20)[0]
