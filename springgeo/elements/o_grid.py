"""The round section in quadrilaterals: a square core in a ring (an O-grid)."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array

Ints = npt.NDArray[np.intp]

# half width of the core over the section's radius; how round it is
CORE, BULGE = 0.46, 0.5


@dataclass(frozen=True, eq=False)
class Section:
    """The unit disc in nine-node quadrilaterals, and perhaps rings about it.

    Attributes
    ----------
    flat : (p, 2) float
        Nodes; those on the rim, and on each ring's, lie on the circle.
    quads : (q, 9) int
        Corners counter-clockwise, the middles of the sides that follow them, the centre.
    """

    flat: Array
    quads: Ints

    @classmethod
    def of(cls, n: int, beyond: Sequence[tuple[float, int]] = ()) -> Section:
        """Return a core of n by n quadrilaterals in a ring of 4 n by (n + 1) // 2.

        ``beyond``: of every further ring its outer radius and how many quadrilaterals wide it is.
        """
        u = np.linspace(-1.0, 1.0, 2 * n + 1)
        x, y = np.meshgrid(u, u, indexing="ij")
        square = np.stack([x, y], axis=-1)
        disc = np.stack([x * np.sqrt(1 - y * y / 2), y * np.sqrt(1 - x * x / 2)], axis=-1)
        core = CORE * ((1 - BULGE) * square + BULGE * 1.2 * disc)
        r = np.linspace(0.0, 1.0, 2 * ((n + 1) // 2) + 1)[:, None, None]
        rim = np.stack([np.cos(np.pi / 4 * u), np.sin(np.pi / 4 * u)], axis=-1)
        ring = core[-1] * (1 - r) + rim * r
        rings, inner = [ring], 1.0
        for outer, count in beyond:
            rings.append(np.linspace(inner, outer, 2 * count + 1)[:, None, None] * rim)
            inner = outer
        turns = [np.linalg.matrix_power([[0.0, 1.0], [-1.0, 0.0]], k) for k in range(4)]
        return cls(*_joined([core, *(r @ turn for r in rings for turn in turns)]))

    @property
    def corners(self) -> Ints:
        """Nodes that are a corner, in rising order."""
        return np.unique(self.quads[:, :4])

    @property
    def corners_and_sides(self) -> Ints:
        """Nodes that are a corner or the middle of a side, in rising order."""
        return np.unique(self.quads[:, :8])

    @cached_property
    def rim(self) -> tuple[Ints, Ints]:
        """Quadrilaterals with a side on the rim, and which side that is, 0 to 3; each ``(m,)``."""
        out = np.hypot(*self.flat.T) > 1 - 1e-9
        at = out[self.quads[:, :4]]
        quad, side = np.nonzero(at & np.roll(at, -1, axis=1))
        return quad, side

    @cached_property
    def weights(self) -> Array:
        """Share of each node in the mean over eight-node quadrilaterals, ``(p,) float``.

        The mean of a field over the section is that sum of its nodes' values; a force shared out
        so acts through the middle.
        """
        return self._shares(3, self.quads[:, :8], _shape8)

    @cached_property
    def corner_weights(self) -> Array:
        """The same of four-node quadrilaterals, ``(p,) float``."""
        return self._shares(2, self.quads[:, :4], _shape4)

    def _shares(
        self, order: int, quads: Ints, shaped: Callable[[Array], tuple[Array, Array]]
    ) -> Array:
        x, w = np.polynomial.legendre.leggauss(order)
        local = np.array([[a, b] for a in x for b in x])
        out = np.zeros(len(self.flat))
        shape, grad = shaped(local)
        (ax, ay), (bx, by) = np.einsum("kgn,qnx->kxqg", grad, self.flat[quads])
        np.add.at(out, quads, ((ax * by - ay * bx) * np.outer(w, w).ravel()) @ shape)
        result: Array = out / out.sum()
        return result


def polygon(corners: int) -> float:
    """Return the area of a polygon whose corners lie on a circle, over the circle's."""
    return math.sin(2 * math.pi / corners) * corners / (2 * math.pi)


_CORNERS = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])


def _shape4(local: Array) -> tuple[Array, Array]:
    """Return bilinear shape functions ``(g, 4)`` and their slopes ``(2, g, 4)``."""
    a, b = 1 + local[:, None, 0] * _CORNERS[:, 0], 1 + local[:, None, 1] * _CORNERS[:, 1]
    return a * b / 4, np.stack([_CORNERS[:, 0] * b, a * _CORNERS[:, 1]]) / 4


def _shape8(local: Array) -> tuple[Array, Array]:
    """Return serendipity shape functions ``(g, 8)`` and their slopes ``(2, g, 8)``."""
    x, y = local[:, :1], local[:, 1:]
    cx, cy = _CORNERS.T
    a, b = 1 + x * cx, 1 + y * cy
    corner = a * b * (x * cx + y * cy - 1) / 4
    corner_x = cx * b * (2 * x * cx + y * cy) / 4
    corner_y = cy * a * (2 * y * cy + x * cx) / 4
    side = np.hstack([(1 - x * x) * (1 - y), (1 + x) * (1 - y * y)]) / 2
    far = np.hstack([(1 - x * x) * (1 + y), (1 - x) * (1 - y * y)]) / 2
    side_x = np.hstack([-2 * x * (1 - y), 1 - y * y, -2 * x * (1 + y), -(1 - y * y)]) / 2
    side_y = np.hstack([-(1 - x * x), -2 * y * (1 + x), 1 - x * x, -2 * y * (1 - x)]) / 2
    shape = np.hstack([corner, side, far])
    return shape, np.stack([np.hstack([corner_x, side_x]), np.hstack([corner_y, side_y])])


def _joined(blocks: list[Array]) -> tuple[Array, Ints]:
    """Return blocks of nodes ``(2 i + 1, 2 j + 1, 2)`` as one, shared nodes once, and the cells."""
    flat = np.concatenate([b.reshape(-1, 2) for b in blocks])
    _, first, number = np.unique(
        np.round(flat, 9) + 0.0, axis=0, return_index=True, return_inverse=True
    )
    a, m, z = slice(0, -1, 2), slice(1, None, 2), slice(2, None, 2)
    order = [(a, a), (z, a), (z, z), (a, z), (m, a), (z, m), (m, z), (a, m), (m, m)]
    quads, offset = [], 0
    for b in blocks:
        size = b.shape[0] * b.shape[1]
        at = number.ravel()[offset : offset + size].reshape(b.shape[:2])
        offset += size
        quads.append(np.stack([at[i, j].ravel() for i, j in order], axis=1))
    return flat[first], np.concatenate(quads)
