"""The sections of a spring's wire before they yield, and which of them are asked."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.equilibrium.rod import Rod
from springgeo.overload.asked import Asked, asked
from springgeo.overload.fibres import bending, solved, stiffness
from springgeo.overload.law import Law


@dataclass(frozen=True, eq=False)
class Wire:
    """Elastic sections at the first Gauss points of all cells, then at the second ones.

    Attributes
    ----------
    asked : Asked
        Those whose fibres are asked one by one.
    stiffness : (2n, 6, 6) float
    bending : (2n, 3, 3) float
        Against twist and bends with stretch and shear free.
    scale : (2n, 3, 3) float
        Takes the rod's strain to the section's, so that both are elastic alike.
    """

    asked: Asked
    stiffness: Array
    bending: Array
    scale: Array

    @classmethod
    def of(cls, rod: Rod, law: Law) -> Wire:
        """Return the sections of a rod."""
        curvature = np.concatenate(rod.drawn.strain.points)[:, 1:]
        K = stiffness(law, rod.wire_diameter, curvature)
        free = bending(K)
        own = np.tile(rod.stiffness, (2, 1))[:, :, None] * np.eye(3)
        return cls(asked(rod.drawn), K, free, solved(free, own))
