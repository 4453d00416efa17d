"""The plain way to a tube's box and to hooks' nearest approach: every station, every pair.

Slow, and kept to judge the quick way by: golden section on every candidate, Newton from every pair.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path
from springgeo.curve.frame import Array

Mask = npt.NDArray[np.bool_]
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


def hook_approach(path: Path, diameter: float, reach: float = 2.0) -> float | None:
    """Return the least distance of any wire outside the body to any other wire, mm.

    Wire closer than 3 ``diameter`` along the curve is its own neighbour and left out. Returns
    None where nothing comes within ``reach`` diameters.
    """
    samples = path.sample(diameter / 4)
    outside = np.array([p.role != "body" for p in path.pieces])[samples.index]
    pairs = _near_pairs(samples.s, samples.point, outside, diameter, reach * diameter)
    if not len(pairs):
        return None
    hold = np.array([_stretch(path, k) for k in samples.index[pairs[:, 0]]]).T
    s, t = _refine(path, samples.s[pairs[:, 0]], samples.s[pairs[:, 1]], hold)
    keep = np.abs(s - t) > 2.5 * diameter
    if not keep.any():
        return None
    s, t = s[keep], t[keep]
    distance = np.linalg.norm(path.point(s) - path.point(t), axis=1)
    return float(distance.min())


def _near_pairs(
    s: Array, point: Array, outside: Mask, diameter: float, reach: float
) -> npt.NDArray[np.intp]:
    """Return, for every hook station, its nearest non-neighbouring station within reach."""
    hooks = np.flatnonzero(outside)
    found = []
    for block in np.array_split(hooks, max(1, len(hooks) // 128)):
        if not len(block):
            continue
        low, high = point[block].min(axis=0) - reach, point[block].max(axis=0) + reach
        near = np.flatnonzero(np.all((point >= low) & (point <= high), axis=1))
        # squared distances by one product, good enough to choose the pairs to refine; not by
        # BLAS, whose threads cost more than they save
        here, there = point[block], point[near]
        gap = np.sum(here**2, axis=1)[:, None] + np.sum(there**2, axis=1)
        gap -= 2 * np.einsum("ik,jk->ij", here, there)
        gap[np.abs(s[block][:, None] - s[near]) < 3 * diameter] = np.inf
        pick = np.argmin(gap, axis=1)
        ok = gap[np.arange(len(block)), pick] < reach**2
        found.append(np.column_stack([block[ok], near[pick[ok]]]))
    return np.concatenate(found) if found else np.empty((0, 2), dtype=np.intp)


def _stretch(path: Path, k: int) -> tuple[float, float]:
    """Return from where to where the wire goes on outside the body about its piece ``k``, mm."""
    first = last = int(k)
    while first > 0 and path.pieces[first - 1].role != "body":
        first -= 1
    while last + 1 < len(path.pieces) and path.pieces[last + 1].role != "body":
        last += 1
    return float(path.starts[first]), float(path.starts[last + 1])


def _refine(path: Path, s: Array, t: Array, hold: Array) -> tuple[Array, Array]:
    """Return the pairs moved to the nearest local minimum of distance (damped Newton).

    The first of each stays between ``hold`` ``(2, n)``, mm.
    """
    for _ in range(12):
        d = path.point(s) - path.point(t)
        ts, tt = path.tangent(s), path.tangent(t)
        ks, kt = path.curvature(s), path.curvature(t)
        g1, g2 = np.sum(d * ts, axis=1), -np.sum(d * tt, axis=1)
        a = np.maximum(1 + np.sum(d * ks, axis=1), 0.1)
        c = np.maximum(1 - np.sum(d * kt, axis=1), 0.1)
        b = -np.sum(ts * tt, axis=1)
        det = a * c - b * b
        safe = det > 1e-4
        det = np.where(safe, det, 1.0)
        step_s = np.where(safe, (c * g1 - b * g2) / det, g1 / (2 * a))
        step_t = np.where(safe, (a * g2 - b * g1) / det, g2 / (2 * c))
        # a place held at an end does not take part: the other one moves alone
        held_s, held_t = _held(*hold, s, g1), _held(0.0, path.length, t, g2)
        step_s, step_t = np.where(held_t, g1 / a, step_s), np.where(held_s, g2 / c, step_t)
        limit = np.linalg.norm(d, axis=1) / 2
        s = np.clip(s - np.clip(step_s, -limit, limit), *hold)
        t = np.clip(t - np.clip(step_t, -limit, limit), 0.0, path.length)
    return s, t


def _held(low: Array | float, high: Array | float, s: Array, slope: Array) -> Mask:
    """Return where going downhill would lead beyond an end."""
    result: Mask = ((s <= low) & (slope > 0)) | ((s >= high) & (slope < 0))
    return result
