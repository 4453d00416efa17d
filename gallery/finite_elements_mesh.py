"""A centreline swept into quadratic hexahedra; used by ``finite_elements.py``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path
from springgeo.statics.contacts import Contacts

Array = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]

CORE, BULGE = 0.46, 0.5  # half width of the section's square core over d/2; how round it is
# corners, then mid-edges of a 20-node hexahedron: node of the 9-node section, station (0 to 2)
FACE, EDGES = [0, 1, 2, 3], [4, 5, 6, 7]
NODES20 = np.array([FACE * 2 + EDGES * 2 + FACE, [0] * 4 + [2] * 4 + [0] * 4 + [2] * 4 + [1] * 4]).T
LOCAL2 = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1], [0, -1], [1, 0], [0, 1], [-1, 0]])
LOCAL20 = np.column_stack([LOCAL2[NODES20[:, 0]], NODES20[:, 1] - 1]).astype(float)
GAUSS = np.array([[x, y, z] for z in (-1, 1) for y in (-1, 1) for x in (-1, 1)]) / np.sqrt(3)


def section(n: int) -> tuple[Array, Ints]:
    """Return nodes ``(p, 2)`` of the unit disc and its 9-node quadrilaterals ``(q, 9)``.

    A square core of n by n elements, slightly rounded, in a ring; rim nodes lie on the circle.
    """
    u = np.linspace(-1.0, 1.0, 2 * n + 1)
    x, y = np.meshgrid(u, u, indexing="ij")
    square = np.stack([x, y], axis=-1)
    disc = np.stack([x * np.sqrt(1 - y * y / 2), y * np.sqrt(1 - x * x / 2)], axis=-1)
    core = CORE * ((1 - BULGE) * square + BULGE * 1.2 * disc)
    r = np.linspace(0.0, 1.0, 2 * ((n + 1) // 2) + 1)[:, None, None]
    rim = np.stack([np.cos(np.pi / 4 * u), np.sin(np.pi / 4 * u)], axis=-1)
    ring = core[-1] * (1 - r) + rim * r
    turn = np.array([[0.0, 1.0], [-1.0, 0.0]])
    blocks = [core, *(ring @ np.linalg.matrix_power(turn, k) for k in range(4))]
    flat = np.concatenate([b.reshape(-1, 2) for b in blocks])
    _, first, number = np.unique(
        np.round(flat, 9) + 0.0, axis=0, return_index=True, return_inverse=True
    )
    quads, offset = [], 0
    for b in blocks:
        at = number[offset : offset + b[..., 0].size].reshape(b.shape[:2])
        offset += at.size
        a, m, z = slice(0, -1, 2), slice(1, None, 2), slice(2, None, 2)
        order = [(a, a), (z, a), (z, z), (a, z), (m, a), (z, m), (m, z), (a, m), (m, m)]
        quads.append(np.stack([at[i, j].ravel() for i, j in order], axis=1))
    return flat[first], np.concatenate(quads)


def layers(path: Path, d: float, contacts: Contacts, n: int) -> Array:
    """Return the arc lengths between layers of elements: dense at joints, cuts at contacts."""
    near, far, joints = 0.6 * d / n, 1.8 * d / n, path.starts
    cuts = np.unique(np.concatenate([joints, [contacts.s_a, contacts.s_b]]))
    cuts = cuts[np.append(np.diff(cuts) > 1e-6 * d, True)]
    out = [cuts[:1]]
    for low, high in pairwise(cuts):
        s = np.linspace(low, high, 2001)
        away = np.abs(s[:, None] - joints).min(axis=1)
        count = np.cumsum(1 / np.clip(near + 0.4 * (away - 1.2 * d), near, far)) * (s[1] - s[0])
        count -= count[0]
        wanted = np.linspace(0.0, count[-1], int(np.ceil(count[-1])) + 1)
        out.append(np.interp(wanted, count, s)[1:])
    return np.concatenate(out)


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
        flat, quads = section(n)
        edges = layers(path, diameter, contacts, n)
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
        step, corners = 1e-5, self.xyz[self.elements]
        rows = [
            (shape20(local + step * axis) - shape20(local - step * axis)) / (2 * step)
            for axis in np.eye(3)
        ]
        return np.linalg.det(np.einsum("agn,enx->egax", np.stack(rows), corners))

    @property
    def volume(self) -> float:
        """Volume of the mesh, mm³."""
        x, w = np.polynomial.legendre.leggauss(3)
        grid = np.stack(np.meshgrid(x, x, x), axis=-1).reshape(-1, 3)
        return float(np.sum(self.jacobians(grid) @ np.einsum("i,j,k->ijk", w, w, w).ravel()))

    def forces(self, F: float) -> dict[int, Array]:
        """Return the force on each loaded node: resultant ``±F`` through each contact."""
        x, w = np.polynomial.legendre.leggauss(3)
        local = np.array([[a, b, -1.0] for a in x for b in x])
        shape, h = shape20(local)[:, [*range(4), *range(8, 12)]], 1e-6
        grads = [shape20(local + h * e) - shape20(local - h * e) for e in np.eye(3)[:2]]
        grads = [g[:, [*range(4), *range(8, 12)]] / (2 * h) for g in grads]
        eight = self.quads[:, :8]
        (ax, ay), (bx, by) = (np.moveaxis(g @ self.flat[eight], -1, 0) for g in grads)
        weight = np.zeros(len(self.flat))
        np.add.at(weight, eight, ((ax * by - ay * bx) * np.outer(w, w).ravel()) @ shape)
        weight /= weight.sum()
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
    x = local[:, None, :]
    factors = np.where(LOCAL20 == 0, 1 - x * x, 1 + x * LOCAL20)
    product = np.prod(factors, axis=-1)
    corner = (LOCAL20 != 0).all(axis=-1)
    return np.where(corner, product / 8 * (np.sum(x * LOCAL20, axis=-1) - 2), product / 4)
