"""Points and weights on the round section."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from springgeo.curve.frame import Array

# rings in the core and outside it, where yielding begins; the core's share of the radius
CORE, OUTER, SHARE = 4, 8, 0.55
AROUND = 24


class Disc(NamedTuple):
    """Points ``y``, ``z`` ``(f,) mm`` of a section, the area ``(f,) mm²`` each stands for."""

    y: Array
    z: Array
    area: Array

    @property
    def shapes(self) -> Array:
        """B, ``(f, 3, 6)``: strains ε, γ_y, γ_z of a straight fibre per section strain.

        Section strains are stretch, shear along y and z, twist, bend about y and z; with twist
        and bends as a rod has them.
        """
        B = np.zeros((len(self.y), 3, 6))
        B[:, 0, 0] = B[:, 1, 1] = B[:, 2, 2] = 1.0
        B[:, 1, 3], B[:, 2, 3] = -self.z, self.y
        B[:, 0, 4], B[:, 0, 5] = self.z, -self.y
        return B


@lru_cache(maxsize=8)
def disc(wire_diameter: float, around: int = AROUND) -> Disc:
    """Return the points: Gauss's in the radius, evenly round; rings thin toward the surface."""
    radius, width = (
        wire_diameter / 2 * np.concatenate(x)
        for x in zip(_gauss(0.0, SHARE, CORE), _gauss(SHARE, 1.0, OUTER), strict=True)
    )
    area = width * radius * (2 * np.pi / around)
    angle = 2 * np.pi * (np.arange(around) + 0.5) / around
    return Disc(
        np.outer(radius, np.cos(angle)).ravel(),
        np.outer(radius, np.sin(angle)).ravel(),
        np.repeat(area, around),
    )


def _gauss(low: float, high: float, count: int) -> tuple[Array, Array]:
    """Return Gauss's points from ``low`` to ``high`` and the lengths they stand for."""
    x, w = np.polynomial.legendre.leggauss(count)
    return low + (high - low) / 2 * (x + 1), (high - low) / 2 * w


@lru_cache(maxsize=8)
def rim(wire_diameter: float, around: int = 72) -> Disc:
    """Return points on the surface alone; they stand for no area."""
    angle = 2 * np.pi * np.arange(around) / around
    return Disc(
        wire_diameter / 2 * np.cos(angle), wire_diameter / 2 * np.sin(angle), np.zeros(around)
    )
