"""Surface stress round the wire from section forces: the curved round bar by harmonics."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.statics.coefficients import HARMONICS, POWERS, coefficients
from springgeo.statics.forces import SectionForces

ANGLES = 72
# angle round the wire from n toward b, rad
PHI: Array = 2 * np.pi / ANGLES * np.arange(ANGLES, dtype=np.float64)


@dataclass(frozen=True, eq=False)
class Surface:
    """Stress components at 72 angles, ``(n, 72) float, MPa``; the radial stress is zero."""

    axial: Array
    hoop: Array
    shear: Array


@dataclass(frozen=True, eq=False)
class Greatest:
    """Greatest stresses round the wire at each station.

    Attributes
    ----------
    axial, shear, von_mises : (n,) float, MPa
        Greatest absolute axial stress; greatest shear stress in any direction (half of Tresca's
        equivalent stress); von Mises.
    axial_angle, shear_angle, von_mises_angle : (n,) float, rad
        Where, in (−π, π]: 0 at the inside of the bend, positive toward b.
    """

    axial: Array
    axial_angle: Array
    shear: Array
    shear_angle: Array
    von_mises: Array
    von_mises_angle: Array


def surface(forces: SectionForces, kappa: Array, diameter: float, nu: float = 0.3) -> Surface:
    """Return the stress on the wire's surface.

    ``σ = N/A·f_N + (M_b a/I)·f_Mb + (M_n a/I)·f_Mn``,
    ``τ = (T a/J)·f_T + (V_b/A)·f_Vb + (V_n/A)·f_Vn``, hoop ``= (M_b a/I)·h``, a = d/2; each f is
    a Fourier series in the angle with polynomials in ``e = κ a`` as coefficients. Source: 2-D
    Fourier finite elements of the section (in the data file). Known: measured, for e ≤ 0.55.

    Parameters
    ----------
    forces : SectionForces
        ``(n,)`` each, in the frame of the curvature.
    kappa : (n,) float, 1/mm
        (Smoothed) curvature.
    diameter : float, mm
    nu : float
        Poisson's ratio; see ``coefficients`` for values other than 0.3.
    """
    area, modulus = np.pi * diameter**2 / 4, np.pi * diameter**3 / 32
    powers = np.vander(kappa * diameter / 2, POWERS, increasing=True)
    f = coefficients(round(nu, 12))

    def part(load: Array, key: str) -> Array:
        # not a matrix product: one this small costs more in waking BLAS threads than in itself
        result: Array = load[:, None] * np.einsum("np,ph->nh", powers, f[key])
        return result

    axial = (
        part(forces.N / area, "N_0")
        + part(forces.M_b / modulus, "Mb_0")
        + part(forces.M_n / modulus, "Mn_0")
    )
    shear = (
        part(forces.T / (2 * modulus), "T_2")
        + part(forces.V_b / area, "Vb_2")
        + part(forces.V_n / area, "Vn_2")
    )
    hoop = part(forces.M_b / modulus, "Mb_1")
    return Surface(_round(axial), _round(hoop), _round(shear))


def _round(harmonics: Array) -> Array:
    """Return the Fourier series ``(n, 11) float`` at the angles, ``(n, 72) float``."""
    spectrum = np.zeros((len(harmonics), ANGLES // 2 + 1), dtype=complex)
    spectrum[:, :HARMONICS] = harmonics[:, :HARMONICS] * (ANGLES / 2)
    spectrum[:, 0] *= 2
    spectrum[:, 1:HARMONICS] -= harmonics[:, HARMONICS:] * (ANGLES / 2 * 1j)
    return np.fft.irfft(spectrum, ANGLES)


def everywhere(stress: Surface) -> tuple[Array, Array, Array]:
    """Return the equivalent stresses round the wire, each ``(n, 72) float``.

    Absolute axial stress, MPa; greatest shear stress in any direction (half of Tresca's
    equivalent stress), MPa; von Mises stress squared, MPa².
    """
    mean, half = stress.axial + stress.hoop, stress.axial - stress.hoop
    mean *= 0.5
    half *= half
    half *= 0.25
    radius2 = np.add(half, stress.shear * stress.shear, out=half)
    mises2 = mean * mean
    mises2 += 3 * radius2
    # principal stresses mean ± radius, and zero across the surface
    radius = np.sqrt(radius2, out=radius2)
    tresca = np.abs(mean, out=mean)
    tresca += radius
    tresca *= 0.5
    np.maximum(tresca, radius, out=tresca)
    return np.abs(stress.axial), tresca, mises2


def greatest(stress: Surface) -> Greatest:
    """Return the greatest stresses round the wire at each station."""
    sigma, tresca, mises2 = everywhere(stress)
    i, j, k = (np.argmax(x, axis=1) for x in (sigma, tresca, mises2))
    row = np.arange(len(i))
    return Greatest(
        sigma[row, i], _angle(i), tresca[row, j], _angle(j), np.sqrt(mises2[row, k]), _angle(k)
    )


def _angle(index: npt.NDArray[np.intp]) -> Array:
    return np.where(2 * index > ANGLES, PHI[index] - 2 * np.pi, PHI[index])
