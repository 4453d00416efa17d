"""How an arc of wire moves when its curvature and twist change; arcs turn less than a radian."""

from __future__ import annotations

import math

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.helix_arc import SERIES, ArcEnds
from springgeo.curve.motion import apply, skew, transposed

_SLOPES = [np.polyder(s) for s in SERIES[1:]]
# powers of the angle kept in the tangent of the moments; coefficients of (1 − exp(−z))/z
_KEPT = 4
_LEFT = [(-1) ** k / math.factorial(k + 1) for k in range(_KEPT + 1)]
_E1 = np.array([1.0, 0.0, 0.0])
_E1_SKEW = skew(_E1)


def with_slopes(length: Array, bend: Array) -> tuple[ArcEnds, Array]:
    """Return the arcs and J, ``(n, 6, 3)``: the twist of the far end per change of ``bend``.

    The twist is in the far end's own axes.
    """
    turn = length[:, None] * bend
    q = np.sum(turn * turn, axis=1)
    a, b, c = (np.polyval(s, q)[:, None, None] for s in SERIES)
    db, dc = (2 * np.polyval(s, q)[:, None] for s in _SLOPES)
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
    force, moment = [wrench[:, :3]], [wrench[:, 3:]]
    for _ in range(_KEPT - 1):
        f, m = force[-1], moment[-1]
        force.append(-apply(w, f))
        moment.append(-apply(v, f) - apply(w, m))
    top = bottom = np.zeros((len(length), 3, 3))
    for j in reversed(range(_KEPT)):
        weight = [_LEFT[k] for k in range(j + 1, _KEPT + 1)]
        f = sum(a * x for a, x in zip(weight, force, strict=False))
        m = sum(a * x for a, x in zip(weight, moment, strict=False))
        top, bottom = skew(f) - w @ top, skew(m) - v @ top - w @ bottom
    result: Array = length[:, None, None] ** 2 * bottom
    return result


def moments(slopes: Array, wrench: Array) -> Array:
    """Return ``Jᵀ w``, ``(n, 3)``: the work of a wrench per change of bend."""
    return apply(transposed(slopes), wrench)
