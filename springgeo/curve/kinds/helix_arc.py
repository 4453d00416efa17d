"""Arcs of wire of constant curvature and twist: exact helices, many at a time."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.entries import entries, many
from springgeo.curve.frame import Array
from springgeo.curve.motion import apply

_TERMS = 8
# sin θ/θ, (1 − cos θ)/θ², (θ − sin θ)/θ³ as polynomials in θ², highest power first: no switch at
# zero, and at rounding error up to a turn of one radian
SERIES = np.array(
    [[(-1) ** k / math.factorial(2 * k + n) for k in reversed(range(_TERMS))] for n in (1, 2, 3)]
)

# turn × tangent: the turn's last entry, and its middle one turned round
_ACROSS = np.array([[1.0], [-1.0]])


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
    turn = length * entries(bend)
    values = polynomials(SERIES, np.sum(turn * turn, axis=0))
    R, p = led(length, turn, around(turn), values)
    return ArcEnds(many(R), many(p))


def around(turn: Array) -> Array:
    """Return ``turn × (turn × ...)``, ``(3, 3, n)``, of turns ``(3, n) rad``."""
    out = turn[:, None] * turn
    square = out[0, 0] + out[1, 1] + out[2, 2]
    for i in range(3):
        out[i, i] -= square
    return out


def led(length: Array, turn: Array, twice: Array, values: Array) -> tuple[Array, Array]:
    """Return where arcs lead, entry by entry: ``(3, 3, n)`` and ``(3, n) mm``.

    ``twice`` is as ``around`` has it, ``values`` those of ``SERIES``, ``(3, n)``.
    """
    a, b, c = values
    R = rounded(a * turn, b * twice)
    p = c * twice[0]
    p[1:] += b * turn[:0:-1] * _ACROSS
    p[0] += 1.0
    p *= length
    return R, p


def rounded(once: Array, out: Array) -> Array:
    """Return the unit matrix and ``once ×``, ``(3, n)``, added to ``out``, ``(3, 3, n)``."""
    x, y, z = once
    out[2, 1] += x
    out[1, 2] -= x
    out[0, 2] += y
    out[2, 0] -= y
    out[1, 0] += z
    out[0, 1] -= z
    for i in range(3):
        out[i, i] += 1.0
    return out
