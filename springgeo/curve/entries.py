"""Small vectors and matrices, many at a time, entry by entry: ``(i, n)`` and ``(i, k, n)``.

The many come last, so that what is done to one entry is done to all in one sweep: where matrices
are put together, multiplied and solved in few entries, that takes half the time and less of the
same with the many first (``motion``).
"""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array


def entries(many: Array) -> Array:
    """Return vectors ``(n, i)`` or matrices ``(n, i, k)`` with the many last."""
    return np.ascontiguousarray(many.T if many.ndim == 2 else many.transpose(1, 2, 0))


def many(entries: Array) -> Array:
    """Return vectors ``(i, n)`` or matrices ``(i, k, n)`` with the many first."""
    return np.ascontiguousarray(entries.T if entries.ndim == 2 else entries.transpose(2, 0, 1))


def across(v: Array, m: Array) -> Array:
    """Return the products ``v × m`` of vectors ``(3, n)`` and ``(3, n)`` or ``(3, ..., n)``."""
    (x, y, z), (mx, my, mz) = v, m
    first = y * mz
    out = np.empty((3, *first.shape))
    np.subtract(first, z * my, out=out[0])
    np.subtract(z * mx, x * mz, out=out[1])
    np.subtract(x * my, y * mx, out=out[2])
    return out


def skewed(v: Array) -> Array:
    """Return the matrices ``(..., 3, 3, n)`` of ``v ×`` of vectors ``(..., 3, n)``."""
    out = np.zeros((*v.shape[:-1], 3, v.shape[-1]))
    x, y, z = v[..., 0, :], v[..., 1, :], v[..., 2, :]
    out[..., 2, 1, :], out[..., 1, 2, :] = x, -x
    out[..., 0, 2, :], out[..., 2, 0, :] = y, -y
    out[..., 1, 0, :], out[..., 0, 1, :] = z, -z
    return out


def applied(m: Array, v: Array) -> Array:
    """Return the products ``(i, n)`` of matrices ``(i, k, n)`` and vectors ``(k, n)``."""
    result: Array = np.einsum("ikn,kn->in", m, v)
    return result


def product(a: Array, b: Array) -> Array:
    """Return the products ``(i, j, n)`` of matrices ``(i, k, n)`` and ``(k, j, n)``."""
    result: Array = np.einsum("ikn,kjn->ijn", a, b)
    return result


def turned(m: Array) -> Array:
    """Return the transposed matrices, ``(k, i, n)``: a view."""
    return m.swapaxes(0, 1)


def turning(wrench: Array, m: Array) -> Array:
    """Return ``M m``, ``(6, k, n)``, of wrenches ``(6, n)``: M as ``motion.turning`` has it."""
    by_force = across(wrench[:3], m.reshape(2, 3, *m.shape[1:]).swapaxes(0, 1))
    out = np.empty_like(m)
    out[:3] = by_force[:, 1]
    np.add(by_force[:, 0], across(wrench[3:], m[3:]), out=out[3:])
    return out


def rotation_vector(R: Array) -> Array:
    """Return the rotation vectors ``(3, n) rad`` of rotations below half a turn.

    Through atan2 of sine and cosine: the arc cosine alone loses eight digits near zero.
    """
    axis = np.stack([R[2, 1] - R[1, 2], R[0, 2] - R[2, 0], R[1, 0] - R[0, 1]])
    sine = np.sqrt(np.sum(axis * axis, axis=0)) / 2
    cosine = (R[0, 0] + R[1, 1] + R[2, 2] - 1) / 2
    large = sine > 1e-12
    scale = np.where(large, np.arctan2(sine, cosine) / np.where(large, sine, 1.0), 1.0)
    result: Array = axis * (scale / 2)
    return result


def solved(m: Array, known: Array) -> Array:
    """Return the solutions ``(i, j, n)`` of systems ``(i, i, n)`` with ``(i, j, n)`` known.

    Without changing rows: for stiffnesses, whose diagonals are not small.
    """
    size = len(m)
    both = np.concatenate([m, known], axis=1)
    for k in range(size):
        row = both[k, k + 1 :]
        row /= both[k, k]
        share = both[:, k].copy()
        share[k] = 0.0
        both[:, k + 1 :] -= share[:, None] * row
    result: Array = both[:, size:]
    return result


def inverse(m: Array) -> Array:
    """Return the inverses of matrices ``(i, i, n)``, without changing rows (``solved``)."""
    out = m.copy()
    for k, row in enumerate(out):
        pivot = 1 / row[k]
        row *= pivot
        share = out[:, k].copy()
        share[k] = 0.0
        out[:, k] = 0.0
        row[k] = pivot
        out -= share[:, None] * row
    return out
