"""How an arc of wire moves when its curvature and twist change; arcs turn less than a radian.

All entry by entry (``curve.entries``).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from springgeo.curve.entries import across, product, skewed, turned
from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import SERIES, around, led, polynomials, rounded

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


@dataclass(frozen=True, eq=False)
class Arcs:
    """Arcs of wire: where they lead, and how that changes with their bend.

    Attributes
    ----------
    R, p : (3, 3, n) and (3, n) float
        The far ends seen from the near ones: tangent, normal, across; mm.
    slopes : (6, 3, n) float
        Twist of the far end, in its own axes, per change of the bend.
    """

    R: Array
    p: Array
    slopes: Array

    @classmethod
    def of(cls, length: Array, bend: Array) -> Arcs:
        """Return the arcs of ``length`` ``(n,) mm`` and ``bend`` ``(3, n) 1/mm``."""
        turn = length * bend
        *values, db, dc = polynomials(_WITH_SLOPES, np.sum(turn * turn, axis=0))
        _, b, c = values
        twice = around(turn)
        R, p = led(length, turn, twice, np.array(values))
        # of b turn × e1 + c turn × (turn × e1), where d(turn × e1) = −e1 × d and
        # d(turn × (turn × e1)) = −(turn × e1) × d − turn × (e1 × d)
        rises = dc * twice[0]
        rises[1] += db * turn[2]
        rises[2] -= db * turn[1]
        moved = rises[:, None] * turn
        cx, cy, cz = c * turn
        moved[0, 1:] -= 2.0 * np.array([cy, cz])
        moved[1] += np.array([cy, cx, b])
        moved[2] += np.array([cz, -b, cx])
        slopes = np.empty((6, 3, len(length)))
        slopes[:3] = length * length * product(turned(R), moved)
        slopes[3:] = length * rounded(-b * turn, c * twice)
        return cls(R, p, slopes)

    def halves(self) -> tuple[Arcs, Arcs]:
        """Return the first and the second half of these arcs."""
        n = self.p.shape[-1] // 2
        one = (self.R[..., :n], self.p[..., :n], self.slopes[..., :n])
        two = (self.R[..., n:], self.p[..., n:], self.slopes[..., n:])
        return Arcs(*one), Arcs(*two)

    def carried(self, wrench: Array) -> Array:
        """Return wrenches ``(6, n)`` in the axes of the far ends as such at the near ends."""
        return carried(self.R, self.p, wrench)

    def moments(self, wrench: Array) -> Array:
        """Return the work ``(3, n)`` of wrenches on the far ends per change of bend."""
        result: Array = np.einsum("ikn,in->kn", self.slopes, wrench)
        return result


def carried(R: Array, p: Array, wrench: Array) -> Array:
    """Return wrenches in the axes of poses (R, p) as wrenches at the origin, ``(6, n)``."""
    out = np.empty_like(wrench)
    np.einsum("ikn,kn->in", R, wrench[:3], out=out[:3])
    np.einsum("ikn,kn->in", R, wrench[3:], out=out[3:])
    out[3:] += across(p, out[:3])
    return out


def moment_slopes(length: Array, bend: Array, wrench: Array) -> Array:
    """Return ``∂(Jᵀ w)/∂bend``, ``(3, 3, n)``, at a fixed wrench ``(6, n)`` on the far end.

    J are the slopes of arcs of ``length`` and ``bend`` ``(3, n)``. From their series
    ``J = Σ (−ad)ᵏ/(k + 1)!`` term by term, to the fourth power of the angle: it steers the
    iteration, and of the results only rates depend on it; what is left out is 1/720 of the fifth.
    """
    back = -skewed(length * bend)
    # powers of adᵀ on force and moment
    powers = np.empty((_KEPT, 2, 3, len(length)))
    powers[0] = wrench.reshape(2, 3, -1)
    for before, power in pairwise(powers):
        np.einsum("ikn,hkn->hin", back, before, out=power)
        _beside(power[1], length, before[0])
    weighed = skewed((_LEFT @ powers.reshape(_KEPT, -1)).reshape(powers.shape))
    found = weighed[-1]
    for more in weighed[-2::-1]:
        moved = np.einsum("ikn,hkjn->hijn", back, found)
        _beside(moved[1], length, found[0])
        moved += more
        found = moved
    result: Array = length * length * found[1]
    return result


def _beside(moment: Array, length: Array, force: Array) -> None:
    """Take from moments ``(3, ..., n)`` those of forces a length along the wire."""
    moment[1] += length * force[2]
    moment[2] -= length * force[1]
