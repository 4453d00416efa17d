"""Rotations, poses and wrenches, many at a time.

A pose (R, p) maps the wire's own axes to space; axis 1 is the tangent. A twist is (velocity,
angular velocity), a wrench (force, moment), both in the axes of a pose; ``(n, 6)`` each.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from springgeo.curve import entries
from springgeo.curve.frame import Array

Index = npt.NDArray[np.intp]
# of squared angles, rad²: below, two terms of the series are exact
_SMALL = 1e-7


def skew(v: Array) -> Array:
    """Return the matrices of ``v ×``, ``(n, 3, 3)``, of vectors ``(n, 3)``."""
    out = np.zeros((*v.shape, 3))
    out[..., 2, 1], out[..., 1, 2] = v[..., 0], -v[..., 0]
    out[..., 0, 2], out[..., 2, 0] = v[..., 1], -v[..., 1]
    out[..., 1, 0], out[..., 0, 1] = v[..., 2], -v[..., 2]
    return out


def apply(matrix: Array, v: Array) -> Array:
    """Return the products ``(n, i)`` of matrices ``(n, i, k)`` and vectors ``(n, k)``."""
    result: Array = np.einsum("nij,nj->ni", matrix, v)
    return result


def transposed(matrix: Array) -> Array:
    """Return the transposed matrices, ``(n, k, i)``."""
    result: Array = np.swapaxes(matrix, -1, -2)
    return result


def cross(a: Array, b: Array) -> Array:
    """Return the cross products ``(n, 3)``, several times as fast as numpy's."""
    ax, ay, az, bx, by, bz = a[..., 0], a[..., 1], a[..., 2], b[..., 0], b[..., 1], b[..., 2]
    first = ay * bz
    out = np.empty((*first.shape, 3))
    np.subtract(first, az * by, out=out[..., 0])
    np.subtract(az * bx, ax * bz, out=out[..., 1])
    np.subtract(ax * by, ay * bx, out=out[..., 2])
    return out


def rotation(v: Array) -> Array:
    """Return the rotations ``(n, 3, 3)`` of rotation vectors ``(n, 3) float, rad``."""
    first, second, _ = _of_angle(np.sum(v * v, axis=-1))
    return _rotation(v, first, second)


def screws(turn: Array, along: Array) -> tuple[Array, Array]:
    """Return the rotations ``(n, 3, 3)`` and ways ``(n, 3)`` of points that move as they turn.

    Rotation vectors ``(n, 3) rad``, and velocities in the turning axes: rigid motions stay rigid.
    """
    first, second, third = _of_angle(np.sum(turn * turn, axis=-1))
    once = cross(turn, along)
    way: Array = along + second[..., None] * once + third[..., None] * cross(turn, once)
    return _rotation(turn, first, second), way


def _of_angle(square: Array) -> tuple[Array, Array, Array]:
    """Return sin θ/θ, (1 − cos θ)/θ² and (θ − sin θ)/θ³ of squared angles, ``(n,) rad²``."""
    small = square < _SMALL
    angle2 = np.where(small, 1.0, square)
    angle = np.sqrt(angle2)
    half = np.sin(angle / 2)
    first = np.where(small, 1 - square / 6, np.sin(angle) / angle)
    second = np.where(small, 0.5 - square / 24, 2 * half * half / angle2)
    return first, second, np.where(small, 1 / 6 - square / 120, (1 - first) / angle2)


def _rotation(v: Array, first: Array, second: Array) -> Array:
    w = skew(v)
    result: Array = second[..., None, None] * (w @ w)
    w *= first[..., None, None]
    result += w
    result += np.eye(3)
    return result


def least_rotation(a: Array, b: Array) -> Array:
    """Return the least rotation ``(3, 3)`` of a unit vector to another, not opposite one."""
    w = skew(cross(a, b))
    turned: Array = np.eye(3) + w + w @ w / (1.0 + float(a @ b))
    return turned


def rotation_vector(R: Array) -> Array:
    """Return the rotation vectors ``(n, 3) float, rad`` of rotations below half a turn."""
    found: Array = entries.rotation_vector(R.transpose(1, 2, 0)).T
    return found


def orthonormal(R: Array) -> Array:
    """Return rotations freed of the rounding errors many products leave (one Newton step)."""
    result: Array = R @ (1.5 * np.eye(3) - 0.5 * (transposed(R) @ R))
    return result


def chained(R: Array, p: Array, place: Index | None = None) -> tuple[Array, Array]:
    """Return the running products of relative poses: ``(n, 3, 3)`` and ``(n, 3)``.

    Pose ``k`` is the first ``k + 1`` of them one after the other; by doubling, log₂ n rounds.
    Where they belong to several chains, ``place`` counts them, ``(n,)`` from zero in each.
    """
    R, p = R.copy(), p.copy()
    longest = len(R) if place is None else 1 + int(place.max(initial=-1))
    step = 1
    while step < longest:
        to: slice | Index = slice(step, None)
        by: slice | Index = slice(None, -step)
        if place is not None:
            to = np.flatnonzero(place >= step)
            by = to - step
        p[to] = p[by] + apply(R[by], p[to])
        R[to] = R[by] @ R[to]
        step *= 2
    return orthonormal(R), p


def joined(R: Array, p: Array, count: Index) -> tuple[Array, Array]:
    """Return where chains of relative poses lead, ``(m, 3, 3)`` and ``(m, 3)``.

    The poses of one chain after the other, ``count`` ``(m,)`` of each. The last of what
    ``chained`` returns, by pairs: each round has half as many products.
    """
    while count.max(initial=1) > 1:
        chain = np.repeat(np.arange(len(count)), count)
        place = np.arange(len(chain)) - (np.cumsum(count) - count)[chain]
        first = np.flatnonzero(place % 2 == 0)
        paired = place[first] + 1 < count[chain[first]]
        by = first[paired]
        R_next, p_next = R[first], p[first]
        R_next[paired] = R[by] @ R[by + 1]
        p_next[paired] += apply(R[by], p[by + 1])
        R, p, count = R_next, p_next, (count + 1) // 2
    return orthonormal(R), p


def carried(R: Array, p: Array, wrench: Array) -> Array:
    """Return wrenches given in the axes of poses (R, p) as wrenches at the origin, ``(n, 6)``."""
    force = apply(R, wrench[:, :3])
    return np.concatenate([force, apply(R, wrench[:, 3:]) + cross(p, force)], axis=1)


def adjoint_inverse(R: Array, p: Array) -> Array:
    """Return Ad(H⁻¹), ``(n, 6, 6)``: a twist at the origin to the same twist at the pose H.

    Its transpose turns a wrench at the pose into the same wrench at the origin.
    """
    out = np.zeros((len(R), 6, 6))
    back = transposed(R)
    out[:, :3, :3] = out[:, 3:, 3:] = back
    out[:, :3, 3:] = -back @ skew(p)
    return out


def turning(wrench: Array) -> Array:
    """Return M, ``(n, 6, 6)``, with ``M η = ad(η)ᵀ w``: how a wrench turns with its axes."""
    out = np.zeros((len(wrench), 6, 6))
    force = skew(wrench[:, :3])
    out[:, :3, 3:] = out[:, 3:, :3] = force
    out[:, 3:, 3:] = skew(wrench[:, 3:])
    return out
