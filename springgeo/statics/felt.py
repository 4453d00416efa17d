"""The curvature a solid bar feels: the curvature vector averaged along the wire.

A bar of finite thickness never fully feels a jump of curvature at a joint. Every term of the
surface stress answers to the curvature along the wire through a kernel of its own, a sum of
exponentials ``exp(−p |s|/d)`` of the same few rates p, even or odd in s. So the curvature vector,
seen in a section frame that does not spin about the wire, is averaged with each exponential once
toward each side, and the terms only differ in weights (``coefficients``).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve import Samples
from springgeo.curve.frame import Array
from springgeo.statics.vectors import cross, dot

# stations nearer than this, over the wire diameter, are the two sides of one place
_SAME = 1e-7

Complex = npt.NDArray[np.complex128]


@dataclass(frozen=True, eq=False)
class Felt:
    """One-sided averages of ``κ d/2`` as complex numbers: real along n, imaginary along b.

    Attributes
    ----------
    before, after : (rates, n) complex
        ``(p/2d) ∫ (κ d/2) exp(−p |s − s'|/d) ds'`` over the wire before and after a station; on
        a long even bend each is half of it.
    n, b : (n, 3) float
        The frame, across the tangent.
    """

    before: Complex
    after: Complex
    n: Array
    b: Array

    def __getitem__(self, rows: npt.NDArray[np.bool_]) -> Felt:
        """Return some of the stations."""
        return Felt(self.before[:, rows], self.after[:, rows], self.n[rows], self.b[rows])

    def turned(self, by: Complex) -> Felt:
        """Return the same in frames whose n lies at the unit numbers ``by`` ``(n,) complex``."""
        c, s = by.real[:, None], by.imag[:, None]
        back = by.conj()
        return Felt(
            self.before * back, self.after * back, c * self.n + s * self.b, c * self.b - s * self.n
        )


def felt(samples: Samples, wire_diameter: float, rates: Array) -> Felt:
    """Return the averages of the curvature, in the frame of the stations' own normals.

    Between stations the components along the stations' own normals are linear and the normals
    turn evenly, so the result is exact for lines, arcs and helices at any spacing. Beyond the
    first and the last station the wire is taken to go on as it ends.

    Parameters
    ----------
    samples : Samples
        ``(n,)`` stations in order; where the curvature varies, a few to the wire diameter.
    wire_diameter : float, mm
    rates : (k,) float
        Of the exponentials, per wire diameter.
    """
    side = cross(samples.tangent, samples.normal)
    z = dot(samples.curvature, samples.normal) + 1j * dot(samples.curvature, side)
    z *= wire_diameter / 2
    h = np.diff(samples.s) / wire_diameter
    h = np.where(h > _SAME, h, 0.0)
    turned = _turns(samples, h > 0.0)
    before = _one_side(z, h, turned, rates)
    after = _one_side(z[::-1], h[::-1], -turned[::-1], rates)[:, ::-1]
    return Felt(before, after, samples.normal, side)


def _one_side(z: Complex, h: Array, turned: Array, rates: Array) -> Complex:
    """Return the part of the averages from the wire before each station, ``(rates, n)``.

    ``y_i = y_(i−1) exp(−q) + (p h/2) ∫₀¹ exp(−q x)(z_i + (z_(i−1) − z_i) x) dx`` with
    ``q = p h + i Δ``, Δ the angle by which the normal turns over the step.
    """
    step = rates[:, None] * h
    q = step + 1j * turned
    decay = np.exp(-q)
    safe = np.where(h > 0.0, q, 1.0)
    e0 = (1 - decay) / safe
    e1 = (e0 - decay) / safe
    term = np.empty((len(rates), len(z)), dtype=complex)
    term[:, 0] = z[0] / 2
    term[:, 1:] = step / 2 * (z[1:] * e0 + (z[:-1] - z[1:]) * e1)
    factor = np.zeros_like(term)
    factor[:, 1:] = decay
    return _recurrence(factor, term)


def _recurrence(factor: Complex, term: Complex) -> Complex:
    """Return y with ``y_i = factor_i y_(i−1) + term_i`` by doubling: log₂ n passes, no overflow.

    Source: W. D. Hillis, G. L. Steele, Data parallel algorithms, CACM 29 (1986) 1170.
    Known: from memory.
    """
    reach = 1
    while reach < term.shape[1]:
        term[:, reach:] += factor[:, reach:] * term[:, :-reach]
        factor[:, reach:] *= factor[:, :-reach].copy()
        factor[:, :reach] = 0.0
        reach *= 2
    return term


def _turns(samples: Samples, apart: npt.NDArray[np.bool_]) -> Array:
    """Return the angle from the normal carried along without spin to the next normal, rad.

    Stations not ``apart`` share their section, so there the normal is carried over as it is.
    Double reflection, fourth order. Source: W. Wang et al., Computation of rotation minimizing
    frames, ACM Trans. Graph. 27 (2008), no. 2. Known: from memory.
    """
    chord = np.diff(samples.point, axis=0)
    t0, t1, r0, r1 = (
        samples.tangent[:-1],
        samples.tangent[1:],
        samples.normal[:-1],
        samples.normal[1:],
    )
    r = _reflected(_reflected(r0, chord), t1 - _reflected(t0, chord))
    r = np.where(apart[:, None], r, r0)
    angle: Array = np.arctan2(dot(cross(r, r1), t1), dot(r, r1))
    return angle


def _reflected(v: Array, mirror: Array) -> Array:
    square = dot(mirror, mirror)
    square = np.where(square > 0.0, square, 1.0)
    return v - (2 * dot(mirror, v) / square)[:, None] * mirror
