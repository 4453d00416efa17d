"""The exact box round a tube on a path, from the centreline alone."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.path import Path

_GOLDEN = (np.sqrt(5) - 1) / 2
_DIRECTIONS = np.concatenate([-np.eye(3), np.eye(3)])
# how many of the best samples are refined in each direction
_CANDIDATES = 12


def tube_box(path: Path, radius: float) -> Array:
    """Return the box of the tube with plane-cut ends, ``(2, 3) float, mm``: lowest, highest.

    A cross-section is a disc across the tangent ``t``, which reaches ``r √(1 − (t·u)²)`` in
    direction ``u``; the extreme over the wire is found on samples and refined by golden
    section, good to rounding error.
    """
    step = radius / 2
    samples = path.sample(step)
    reach = _reach(samples.point @ _DIRECTIONS.T, samples.tangent @ _DIRECTIONS.T, radius)
    best = np.argsort(reach, axis=0)[-_CANDIDATES:]
    # all candidates of all directions in one batch: candidate i looks along u[i]
    s = samples.s[best].T.ravel()
    u = np.repeat(_DIRECTIONS, best.shape[0], axis=0)

    def f(q: Array) -> Array:
        point, tangent = path.point(q), path.tangent(q)
        return _reach(np.sum(point * u, axis=1), np.sum(tangent * u, axis=1), radius)

    low, high = np.clip(s - step, 0.0, path.length), np.clip(s + step, 0.0, path.length)
    top = np.maximum(f(low), f(high))
    for _ in range(48):
        width = _GOLDEN * (high - low)
        left, right = high - width, low + width
        f_left, f_right = f(left), f(right)
        top = np.maximum(top, np.maximum(f_left, f_right))
        keep_left = f_left > f_right
        low, high = np.where(keep_left, low, left), np.where(keep_left, right, high)
    furthest = np.maximum(top.reshape(6, -1).max(axis=1), reach.max(axis=0))
    return np.array([-furthest[:3], furthest[3:]])


def _reach(along: Array, slope: Array, radius: float) -> Array:
    result: Array = along + radius * np.sqrt(np.maximum(0.0, 1 - slope**2))
    return result
