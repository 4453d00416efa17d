"""The exact box round a tube on a path, from the centreline alone."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.path import Path

_GOLDEN = (np.sqrt(5) - 1) / 2
_DIRECTIONS = np.concatenate([-np.eye(3), np.eye(3)])
# samples half a radius apart miss a maximum by at most a sixteenth of the radius, at the tightest
# bend a wire of that radius can have; twice that is allowed
_SLACK = 1 / 8


def tube_box(path: Path, radius: float) -> Array:
    """Return the box of the tube with plane-cut ends, ``(2, 3) float, mm``: lowest, highest.

    A cross-section is a disc across the tangent ``t``, which reaches ``r √(1 − (t·u)²)`` in
    direction ``u``; the extreme over the wire is found on samples and refined by golden
    section, good to rounding error.
    """
    step = radius / 2
    samples = path.sample(step)
    reach = _reach(samples.point @ _DIRECTIONS.T, samples.tangent @ _DIRECTIONS.T, radius)
    # refine every local maximum the true one may hide behind: turns that reach nearly as far are
    # sampled at different places, and the furthest need not have the best sample
    edge = np.full((1, 6), -np.inf)
    peak = (reach >= np.vstack([edge, reach[:-1]])) & (reach >= np.vstack([reach[1:], edge]))
    peak &= reach >= reach.max(axis=0) - _SLACK * radius
    # all candidates of all directions in one batch: candidate i looks along u[i]
    which, direction = np.nonzero(peak)
    s, u = samples.s[which], _DIRECTIONS[direction]

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
    furthest = reach.max(axis=0)
    np.maximum.at(furthest, direction, top)
    return np.array([-furthest[:3], furthest[3:]])


def _reach(along: Array, slope: Array, radius: float) -> Array:
    result: Array = along + radius * np.sqrt(np.maximum(0.0, 1 - slope**2))
    return result
