"""Where the coils turn: the axis of a cylinder that most points keep the same distance from."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from springgeo.curve.frame import Array

# directions tried over half a sphere, and points looked at for each
_DIRECTIONS, _LOOKED_AT = 180, 900
_ROUNDS = 9
# of Gauss–Newton, at each scale
_STEPS = 12


class Axis(NamedTuple):
    """An axis: ``frame`` ``(3, 3)``, whose last column is its direction, and a point on it.

    ``radius`` is that of the cylinder, mm.
    """

    frame: Array
    origin: Array
    radius: float

    def local(self, points: Array) -> Array:
        """Return points ``(n, 3)`` with z along the axis."""
        return (points - self.origin) @ self.frame


def axes(points: Array, rng: np.random.Generator, most: int) -> list[Axis]:
    """Return likely axes of the coils, best first.

    Parameters
    ----------
    points : (n, 3) float, mm
    rng : Generator
    most : int
        How many.
    """
    some = points[rng.permutation(len(points))[:_LOOKED_AT]]
    middle = np.median(some, axis=0)
    some = some - middle
    _, _, principal = np.linalg.svd(some - some.mean(axis=0), full_matrices=False)
    tried = np.concatenate([principal, _half_sphere(_DIRECTIONS)])
    frames = np.stack([frame_along(u) for u in tried])
    flat = np.einsum("nk,fkj->fnj", some, frames[:, :, :2])
    centre, radius, score = _circles(flat)
    found: list[Axis] = []
    more = points[rng.permutation(len(points))[: 3 * _LOOKED_AT]]
    for i in _apart(tried, score, most):
        f = frames[i]
        axis = Axis(f, middle + f[:, :2] @ centre[i], float(radius[i]))
        axis = refined(some + middle, axis)
        for _ in range(2):
            axis = refined(_dense(more, axis), axis)
        if not any(_same(axis, other) for other in found):
            found.append(axis)
    return found


def _dense(points: Array, axis: Axis) -> Array:
    """Return the points that lie where along the axis most points are near the cylinder."""
    x, y, z = axis.local(points).T
    near = np.abs(np.hypot(x, y) - axis.radius) < 0.45 * axis.radius
    if near.sum() < 100:
        return points
    low, high = np.quantile(z[near], [0.01, 0.99])
    bins = np.linspace(low, high, 33)
    count, _ = np.histogram(z[near], bins)
    wide = np.convolve(count, np.ones(3) / 3, mode="same")
    full = np.flatnonzero(wide > 0.4 * np.quantile(wide, 0.9))
    if not len(full):
        return points
    inside = near & (z >= bins[full[0]]) & (z <= bins[full[-1] + 1])
    chosen: Array = points[inside]
    return chosen[:: max(1, len(chosen) // _LOOKED_AT)]


def _same(a: Axis, b: Axis) -> bool:
    along = abs(float(a.frame[:, 2] @ b.frame[:, 2]))
    beside = float(np.linalg.norm(b.local(a.origin[None])[0, :2]))
    return along > 0.9999 and beside < 0.05 * a.radius


def frame_along(u: Array) -> Array:
    """Return a right-handed frame ``(3, 3)`` whose last column is the unit vector along ``u``."""
    w = u / np.linalg.norm(u)
    a = np.eye(3)[int(np.argmin(np.abs(w)))]
    first = a - w * (a @ w)
    first /= np.linalg.norm(first)
    return np.column_stack([first, np.cross(w, first), w])


def _half_sphere(n: int) -> Array:
    i = np.arange(n) + 0.5
    z, turn = i / n, i * np.pi * (3 - np.sqrt(5))
    ring = np.sqrt(1 - z**2)
    return np.column_stack([ring * np.cos(turn), ring * np.sin(turn), z])


def _circles(flat: Array) -> tuple[Array, Array, Array]:
    """Return centre, radius and score of the best circle through each set ``(f, n, 2)``.

    Kåsa's linear fit, reweighted by Cauchy's weights. The score is the median distance from the
    circle over its radius: the less, the more the points turn about that direction.
    """
    weight = np.ones(flat.shape[:2])
    spread = np.sqrt((flat**2).sum(axis=2).mean(axis=1))
    design = np.concatenate([2 * flat, np.ones((*flat.shape[:2], 1))], axis=2)
    right = (flat**2).sum(axis=2)
    for _ in range(_ROUNDS):
        weighed = (design * weight[:, :, None]).transpose(0, 2, 1)
        normal = weighed @ design
        normal += 1e-9 * np.trace(normal, axis1=1, axis2=2)[:, None, None] * np.eye(3)
        solved = np.linalg.solve(normal, weighed @ right[..., None])[..., 0]
        centre = solved[:, :2]
        radius = np.sqrt(np.maximum(solved[:, 2] + (centre**2).sum(axis=1), 1e-12))
        away = np.linalg.norm(flat - centre[:, None], axis=2) - radius[:, None]
        off = np.median(np.abs(away), axis=1)
        weight = 1 / (1 + (away / np.maximum(off, 1e-9 * spread)[:, None]) ** 2)
    score = off / np.minimum(radius, 2 * spread)
    return centre, radius, np.where(radius < 3 * spread, score, 10.0)


def _apart(tried: Array, score: Array, most: int) -> list[int]:
    chosen: list[int] = []
    for i in np.argsort(score).tolist():
        if all(abs(float(tried[i] @ tried[j])) < 0.94 for j in chosen):
            chosen.append(i)
            if len(chosen) == most:
                break
    return chosen


def refined(points: Array, start: Axis) -> Axis:
    """Return the cylinder that fits nearest to ``start``, by robust least squares.

    Gauss–Newton steps on the distance from it, with Cauchy's weights.
    """
    axis = start
    for _ in range(3):
        # points far from the cylinder are hooks and others: the scale is that of those near
        off = np.abs(np.linalg.norm(axis.local(points)[:, :2], axis=1) - axis.radius)
        near = off[off <= max(0.45 * axis.radius, off.min() * 2)]
        axis = _settled(points, axis, max(0.6 * float(np.median(near)), 1e-6))
    return axis


def _settled(points: Array, axis: Axis, scale: float) -> Axis:
    for _ in range(_STEPS):
        x, y, z = axis.local(points).T
        rho = np.maximum(np.hypot(x, y), 1e-12)
        off = rho - axis.radius
        n, size = np.column_stack([x, y]) / rho[:, None], max(float(np.ptp(z)), axis.radius)
        slopes = np.column_stack([-n * (z / size)[:, None], -n, np.full(len(z), -1.0)])
        weight = (slopes / (1 + (off / scale) ** 2)[:, None]).T
        normal = weight @ slopes
        normal += 1e-6 * np.trace(normal) * np.eye(5)
        step = np.linalg.solve(normal, -weight @ off)
        # at most so far that most points come to lie on the other side
        step /= max(1.0, float(np.abs(step).max()) / (0.5 * axis.radius))
        tilt = axis.frame @ np.array([step[0] / size, step[1] / size, 1.0])
        axis = Axis(
            frame_along(tilt),
            axis.origin + axis.frame[:, :2] @ step[2:4],
            max(axis.radius + float(step[4]), 0.1 * axis.radius),
        )
        if np.abs(step).max() < 1e-5 * axis.radius:
            break
    return axis
