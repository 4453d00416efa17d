"""Surface stress round the wire from section forces: the bent round bar by harmonics."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from springgeo.statics.around import ANGLES, Surface
from springgeo.statics.coefficients import HARMONICS, STRESSES, Law, law, shear_factor
from springgeo.statics.felt import Complex, Felt
from springgeo.statics.forces import SectionForces

# curvatures felt, times d/2, no further apart than this are one
_SAME = 1e-9
# multiplications of a matrix product that BLAS does not share out
_ALONE = 200_000


class Answer(NamedTuple):
    """What wire that feels a curvature answers with, whatever forces act on it.

    ``factors``, complex: those of each group of the law on its load, of every curvature that is
    felt somewhere; ``of`` (n,): which of them the stations feel.
    """

    factors: tuple[Complex, ...]
    of: npt.NDArray[np.intp]


def surface(
    forces: SectionForces,
    felt: Felt | Answer,
    wire_diameter: float,
    nu: float = 0.3,
) -> Surface:
    """Return the stress on the wire's surface.

    The straight bar's (``σ = N/A + M a/I``, ``τ = T a/J + k₁ V/A`` at the neutral axis, a = d/2)
    and what bending of the wire adds: a series in the angle whose terms answer to the curvature
    felt (``coefficients.Law``). Terms of first order in the curvature hold for any course of it,
    those of higher order are exact where it is even and fitted where it is not. Source: own
    finite elements (in the data file, with what they leave over).

    Parameters
    ----------
    forces : SectionForces
        ``(n,)`` each, in the frame of ``felt``.
    felt : Felt, or what `answer` makes of it
    wire_diameter : float, mm
    nu : float
        Poisson's ratio.
    """
    found = answer(felt, nu) if isinstance(felt, Felt) else felt
    series = _series(forces, found, wire_diameter, law(round(nu, 12)))
    # irfft halves all harmonics but the mean
    series *= ANGLES / 2
    series[:, 0] *= 2
    spectrum = np.ascontiguousarray(np.moveaxis(series, 1, 2))
    axial, hoop, shear = np.fft.irfft(spectrum, ANGLES, axis=2)
    return Surface(axial, hoop, shear)


def answer(felt: Felt, nu: float = 0.3) -> Answer:
    """Return what wire answers with that feels a curvature; the same under any forces."""
    data = law(round(nu, 12))
    # along an even coil the curvature felt is everywhere the same
    both = _both(felt)
    new = np.append(True, np.max(np.abs(np.diff(both)), axis=0) > _SAME)
    of = np.cumsum(new) - 1
    terms = _terms(np.ascontiguousarray(both[:, new]), data)
    return Answer(tuple(terms[rows].sum(axis=0) for _, rows in data.groups), of)


def _series(forces: SectionForces, found: Answer, wire_diameter: float, law: Law) -> Complex:
    """Return ``C (stress, harmonic, n) complex`` of the stresses ``Re Σ C_m exp(i m φ)``."""
    area, modulus = np.pi * wire_diameter**2 / 4, np.pi * wire_diameter**3 / 32
    N, T = forces.N / area, forces.T / (2 * modulus)
    V = (forces.V_n + 1j * forces.V_b) / area
    M = (forces.M_n + 1j * forces.M_b) / modulus
    loads = (N, T, V, M)
    conjugate = (N, T, V.conj(), M.conj())
    out = np.zeros((len(STRESSES), HARMONICS, len(N)), dtype=complex)
    out[0, 0], out[0, 1] = N, -1j * conjugate[3]
    out[2, 0], out[2, 1] = T, 1j * shear_factor(law.nu) * conjugate[2]
    for (group, _), factor in zip(law.groups, found.factors, strict=True):
        load, is_conjugate, stress, harmonic = group
        out[stress, harmonic] += factor[found.of] * (conjugate if is_conjugate else loads)[load]
    out[:, 0].imag = 0.0
    return out


def _both(felt: Felt) -> Complex:
    """Return the averages over both sides, then their differences, ``(2k, n) complex``."""
    k = len(felt.before)
    out = np.empty((2 * k, felt.before.shape[1]), dtype=complex)
    np.add(felt.before, felt.after, out=out[:k])
    np.subtract(felt.after, felt.before, out=out[k:])
    return out


def _terms(both: Complex, law: Law) -> Complex:
    """Return each term's factor on its load, ``(R, n) complex``."""
    z = _averaged(both, law)
    out: Complex = np.empty_like(z)
    out[:] = (law.powers[:, 0] * law.phase)[:, None]
    # few terms are more than a monomial
    long = law.long
    size2 = z[long].real ** 2 + z[long].imag ** 2
    value = np.zeros_like(size2)
    for column in law.powers[long].T[::-1]:
        value *= size2
        value += column[:, None]
    out[long] = value * law.phase[long, None]
    bar = z.conj()
    for power in range(1, max(law.bars) + 1):
        first = np.searchsorted(law.bars, power)
        out[first:] *= bar[first:]
    for i, times in enumerate(law.plain):
        for _ in range(times):
            out[i] *= z[i]
    return out


def _averaged(both: Complex, law: Law) -> Complex:
    """Return every term's average of the curvature, ``(R, n) complex``."""
    # on the real view there is no conversion; in blocks BLAS stays on one thread: waking others
    # takes longer than the product
    real = both.view(float)
    out = np.empty((len(law.weights), real.shape[1]))
    step = max(1, _ALONE // real.size)
    for first in range(0, len(out), step):
        np.matmul(law.weights[first : first + step], real, out=out[first : first + step])
    z: Complex = out.view(complex)
    return z
