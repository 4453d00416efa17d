"""Section forces with the stresses they cause."""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.curve.frame import Array
from springgeo.statics.around import Greatest
from springgeo.statics.felt import Felt
from springgeo.statics.forces import SectionForces


@dataclass(frozen=True, eq=False)
class SectionStress:
    """Section forces and the greatest stresses they cause.

    Attributes
    ----------
    felt : Felt
        The curvature that the wire feels, in the frame of the forces.
    kappa : (n,) float, 1/mm
        The curvature felt by bending.
    forces : SectionForces
        With n toward the inside of that curvature.
    stress : Greatest
    """

    felt: Felt
    kappa: Array
    forces: SectionForces
    stress: Greatest
