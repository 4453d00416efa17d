"""The exact box round a tube on a path, from the centreline alone."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.path import Path

_GOLDEN = (np.sqrt(5) - 1) / 2


def tube_box(path: Path, radius: float) -> Array:
    """Return the box of the tube with plane-cut ends, ``(2, 3) float, mm``: lowest, highest.

    A cross-section is a disc across the tangent ``t``, which reaches ``r √(1 − (t·u)²)`` in
    direction ``u``; the extreme over the wire is found on samples and refined by golden
    section, good to rounding error.
    """
    samples = path.sample(radius / 2)
    box = np.empty((2, 3))
    for axis in range(3):
        for side, sign in ((0, -1.0), (1, 1.0)):
            u = np.zeros(3)
            u[axis] = sign
            box[side, axis] = sign * _reach(
                path, radius, u, samples.s, samples.point, samples.tangent
            )
    return box


def _support(point: Array, tangent: Array, radius: float, u: Array) -> Array:
    result: Array = point @ u + radius * np.sqrt(np.maximum(0.0, 1 - (tangent @ u) ** 2))
    return result


def _reach(path: Path, radius: float, u: Array, s: Array, point: Array, tangent: Array) -> float:
    value = _support(point, tangent, radius, u)
    best = np.argsort(value)[-12:]
    step = radius / 2
    low = np.clip(s[best] - step, 0.0, path.length)
    high = np.clip(s[best] + step, 0.0, path.length)

    def f(q: Array) -> Array:
        return _support(path.point(q), path.tangent(q), radius, u)

    top = float(value.max())
    for _ in range(48):
        width = _GOLDEN * (high - low)
        left, right = high - width, low + width
        f_left, f_right = f(left), f(right)
        top = max(top, float(f_left.max()), float(f_right.max()))
        keep_left = f_left > f_right
        low, high = np.where(keep_left, low, left), np.where(keep_left, right, high)
    return top
