"""Arcs of wire of constant curvature and twist: exact helices, many at a time."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import apply, skew

_TERMS = 8
# sin θ/θ, (1 − cos θ)/θ², (θ − sin θ)/θ³ as polynomials in θ², highest power first: no switch at
# zero, and at rounding error up to a turn of one radian
SERIES = np.array(
    [[(-1) ** k / math.factorial(2 * k + n) for k in reversed(range(_TERMS))] for n in (1, 2, 3)]
)


def polynomials(coefficients: Array, x: Array) -> Array:
    """Return the values ``(k, n)`` of polynomials ``(k, m)``, highest power first, at ``(n,)``.

    Horner's scheme for all of them at once: a fraction of the calls of one after the other.
    """
    out = np.zeros((len(coefficients), len(x)))
    for column in coefficients.T:
        out *= x
        out += column[:, None]
    return out


@dataclass(frozen=True, eq=False)
class ArcEnds:
    """The far ends of arcs, seen from their near ends: tangent, normal, across; mm.

    Attributes
    ----------
    R, p : (n, 3, 3) and (n, 3) float
    """

    R: Array
    p: Array

    def then(self, other: ArcEnds) -> ArcEnds:
        """Return the ends of these arcs each followed by another."""
        return ArcEnds(self.R @ other.R, self.p + apply(self.R, other.p))

    def halves(self) -> tuple[ArcEnds, ArcEnds]:
        """Return the first and the second half of these ends."""
        n = len(self.p) // 2
        return ArcEnds(self.R[:n], self.p[:n]), ArcEnds(self.R[n:], self.p[n:])


def arc_ends(length: Array, bend: Array) -> ArcEnds:
    """Return the ends of arcs of ``length`` ``(n,) mm`` and ``bend`` ``(n, 3) 1/mm``.

    ``bend`` is the rate of turning along the wire in the wire's own axes: twist, then curvature
    about the two axes across. An arc turns by less than a radian.
    """
    turn = length[:, None] * bend
    q = np.sum(turn * turn, axis=1)
    a, b, c = polynomials(SERIES, q)[:, :, None, None]
    w = skew(turn)
    w2 = w @ w
    p = b[:, 0] * w[..., 0] + c[:, 0] * w2[..., 0]
    p[:, 0] += 1.0
    return ArcEnds(np.eye(3) + a * w + b * w2, length[:, None] * p)
