"""Stress at angles round the wire, and the greatest of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array

ANGLES = 72
# angle round the wire from n toward b, rad
PHI: Array = 2 * np.pi / ANGLES * np.arange(ANGLES, dtype=np.float64)


class Surface(NamedTuple):
    """Stress components at 72 angles, ``(n, 72) float, MPa``; the radial stress is zero."""

    axial: Array
    hoop: Array
    shear: Array


@dataclass(frozen=True, eq=False)
class Greatest:
    """Greatest stresses round the wire at each station, (n,), MPa, and where, rad.

    ``axial``: absolute; ``shear``: in any direction (half of Tresca's equivalent stress). Angles
    lie in (−π, π]: 0 at the inside of the bend, positive toward b.
    """

    axial: Array
    axial_angle: Array
    shear: Array
    shear_angle: Array
    von_mises: Array
    von_mises_angle: Array


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
