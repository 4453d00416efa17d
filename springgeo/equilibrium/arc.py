"""How an arc of wire moves when its curvature and twist change; arcs turn less than a radian."""

from __future__ import annotations

import math

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import SERIES, ArcEnds, polynomials
from springgeo.curve.motion import apply, skew, transposed

# the series, and the slopes of the latter two over the squared angle, twice
_WITH_SLOPES = np.array([*SERIES, *([0.0, *(2 * np.polyder(s))] for s in SERIES[1:])])
# powers of the angle kept in the tangent of the moments; coefficients of (1 − exp(−z))/z, row j
# for what stands behind the j-th power
_KEPT = 4
_LEFT = np.array(
    [
        [
            (-1) ** k / math.factorial(k + 1) if k <= _KEPT else 0.0
            for k in range(j + 1, j + 1 + _KEPT)
        ]
        for j in range(_KEPT)
    ]
)
_E1 = np.array([1.0, 0.0, 0.0])
_E1_SKEW = skew(_E1)


def with_slopes(length: Array, bend: Array) -> tuple[ArcEnds, Array]:
    """Return the arcs and J, ``(n, 6, 3)``: the twist of the far end per change of ``bend``.

    The twist is in the far end's own axes.
    """
    turn = length[:, None] * bend
    q = np.sum(turn * turn, axis=1)
    a, b, c, db, dc = polynomials(_WITH_SLOPES, q)[:, :, None, None]
    db, dc = db[:, 0], dc[:, 0]
    w = skew(turn)
    w2 = w @ w
    R = np.eye(3) + a * w + b * w2
    once, twice = w[..., 0], w2[..., 0]
    l1 = length[:, None]
    p = l1 * (_E1 + b[:, 0] * once + c[:, 0] * twice)
    # d(turn × e1) = −e1 × d, d(turn × (turn × e1)) = −(turn × e1) × d − turn × (e1 × d)
    moved = (db * once + dc * twice)[:, :, None] * turn[:, None, :]
    moved = moved - b * _E1_SKEW - c * (skew(once) + w @ _E1_SKEW)
    slopes = np.empty((len(length), 6, 3))
    square = length[:, None, None] ** 2
    slopes[:, :3] = square * (transposed(R) @ moved)
    slopes[:, 3:] = length[:, None, None] * (np.eye(3) - b * w + c * w2)
    return ArcEnds(R, p), slopes


def moment_slopes(length: Array, bend: Array, wrench: Array) -> Array:
    """Return ``∂(Jᵀ w)/∂bend``, ``(n, 3, 3)``, at a fixed wrench ``(n, 6)`` on the far end.

    From the series ``J = Σ (−ad)ᵏ/(k + 1)!`` term by term, to the fourth power of the angle: it
    steers the iteration, and no result depends on it.
    """
    w, v = skew(length[:, None] * bend), length[:, None, None] * _E1_SKEW
    # powers of adᵀ on the wrench
    powers = np.empty((_KEPT, *wrench.shape))
    powers[0] = wrench
    ad = np.zeros((len(length), 6, 6))
    ad[:, :3, :3] = ad[:, 3:, 3:] = -w
    ad[:, 3:, :3] = -v
    for k in range(1, _KEPT):
        powers[k] = apply(ad, powers[k - 1])
    weighed = np.einsum("jk,kni->jni", _LEFT, powers)
    force, moment = skew(weighed[..., :3]), skew(weighed[..., 3:])
    top, bottom = force[-1], moment[-1]
    for j in reversed(range(_KEPT - 1)):
        top, bottom = force[j] - w @ top, moment[j] - v @ top - w @ bottom
    result: Array = length[:, None, None] ** 2 * bottom
    return result


def moments(slopes: Array, wrench: Array) -> Array:
    """Return ``Jᵀ w``, ``(n, 3)``: the work of a wrench per change of bend."""
    return apply(transposed(slopes), wrench)
