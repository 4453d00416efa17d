"""The curvature a solid bar feels: the curvature vector smoothed along the wire.

A bar of finite thickness never fully feels a jump of curvature at a joint. The curvature vector,
seen in a section frame that does not spin about the wire, is convolved with
``exp(−|s|/λ)/2λ``, λ = 0.15 d. Known: measured, against 3-D finite elements on thirteen springs;
λ was chosen on four of them.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from springgeo.curve import Samples
from springgeo.curve.frame import Array

# smoothing length over wire diameter
LAMBDA = 0.15
# stations nearer than this, over the smoothing length, are the two sides of one place
_SAME = 1e-6

Complex = npt.NDArray[np.complex128]


def smoothed_curvature(samples: Samples, diameter: float) -> Array:
    """Return the smoothed curvature vector, ``(n, 3) float, 1/mm``, across the tangent.

    Between stations the components along the stations' own normals are linear and the normals
    turn evenly, so the result is exact for lines, arcs and helices at any spacing. Beyond the
    first and the last station the wire is taken to go on as it ends.

    Parameters
    ----------
    samples : Samples
        ``(n,)`` stations in order, spaced by at most ~λ/3 where the curvature varies.
    diameter : float, mm
    """
    length = LAMBDA * diameter
    side = np.cross(samples.tangent, samples.normal)
    z = _dot(samples.curvature, samples.normal) + 1j * _dot(samples.curvature, side)
    h = np.diff(samples.s)
    h = np.where(h > _SAME * length, h, 0.0)
    turned = _turns(samples, h > 0.0)
    before = _one_side(z, h, turned, length)
    after = _one_side(z[::-1], h[::-1], -turned[::-1], length)[::-1]
    y = before + after
    return y.real[:, None] * samples.normal + y.imag[:, None] * side


def _one_side(z: Complex, h: Array, turned: Array, length: float) -> Complex:
    """Return the part of the convolution from the wire before each station.

    ``y_i = y_(i−1) exp(−p) + (h/2λ) ∫₀¹ exp(−p x)(z_i + (z_(i−1) − z_i) x) dx`` with
    ``p = h/λ + i Δ``, Δ the angle by which the normal turns over the step.
    """
    p = h / length + 1j * turned
    decay = np.exp(-p)
    safe = np.where(h > 0.0, p, 1.0)
    e0 = (1 - decay) / safe
    e1 = (1 - decay * (1 + p)) / safe**2
    step = np.where(h > 0.0, h / (2 * length), 0.0) * (z[1:] * e0 + (z[:-1] - z[1:]) * e1)
    factor = np.concatenate([[0.0 + 0.0j], decay])
    return _recurrence(factor, np.concatenate([[z[0] / 2], step]))


def _recurrence(factor: Complex, term: Complex) -> Complex:
    """Return y with ``y_i = factor_i y_(i−1) + term_i`` by doubling: log₂ n passes, no overflow.

    Source: W. D. Hillis, G. L. Steele, Data parallel algorithms, CACM 29 (1986) 1170.
    Known: from memory.
    """
    factor, term = factor.copy(), term.copy()
    reach = 1
    while reach < len(term):
        term[reach:] += factor[reach:] * term[:-reach]
        factor[reach:] *= factor[:-reach].copy()
        factor[:reach] = 0.0
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
    angle: Array = np.arctan2(_dot(np.cross(r, r1), t1), _dot(r, r1))
    return angle


def _reflected(v: Array, mirror: Array) -> Array:
    square = _dot(mirror, mirror)
    square = np.where(square > 0.0, square, 1.0)
    return v - (2 * _dot(mirror, v) / square)[:, None] * mirror


def _dot(a: Array, b: Array) -> Array:
    result: Array = np.einsum("ij,ij->i", a, b)
    return result
