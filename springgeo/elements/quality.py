"""Volume and shape of hexahedra: the determinant of the Jacobian."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.elements.o_grid import Ints
from springgeo.elements.swept import LOCAL20

GAUSS2 = np.array([[x, y, z] for z in (-1, 1) for y in (-1, 1) for x in (-1, 1)]) / np.sqrt(3)
# elements looked at in one go
_CHUNK = 20000


def shape(local: Array, count: int) -> tuple[Array, Array]:
    """Return shape functions ``(g, count)`` and their slopes ``(3, g, count)``, count 8 or 20.

    Serendipity elements; source: Zienkiewicz and Taylor, The Finite Element Method; from memory.
    """
    x, at = local[:, None, :], LOCAL20[:count]
    factor = np.where(at == 0, 1 - x * x, 1 + x * at)
    slope = np.where(at == 0, -2 * x, at + 0 * x)
    product = factor.prod(axis=-1)
    others = np.stack([factor[..., [1, 2]], factor[..., [0, 2]], factor[..., [0, 1]]]).prod(axis=-1)
    along = np.moveaxis(slope, -1, 0) * others
    if count == 8:
        return product / 8, along / 8
    corner = (at != 0).all(axis=-1)
    rest = (x * at).sum(axis=-1) - 2
    value = np.where(corner, product * rest / 8, product / 4)
    grad = np.where(corner, (along * rest + product * at.T[:, None, :]) / 8, along / 4)
    return value, grad


def jacobians(nodes: Array, elements: Ints, local: Array) -> Array:
    """Return determinants at local points ``(g, 3)`` of every element, ``(e, g) float, mm³``."""
    _, grad = shape(local, elements.shape[1])
    found = [
        np.linalg.det(np.einsum("agn,enx->egax", grad, nodes[elements[i : i + _CHUNK]]))
        for i in range(0, len(elements), _CHUNK)
    ]
    return np.concatenate(found)


def volume(nodes: Array, elements: Ints) -> tuple[float, float]:
    """Return the volume, mm³, by two points a direction, and the least determinant there."""
    found = jacobians(nodes, elements, GAUSS2)
    return float(found.sum()), float(found.min())
