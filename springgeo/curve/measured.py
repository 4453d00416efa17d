"""The radius of a piece of wire, from its own curvature."""

from __future__ import annotations

import math

import numpy as np

from springgeo.curve.kinds.arc import Arc
from springgeo.curve.kinds.cylinder_bend import CylinderBend
from springgeo.curve.piece import Piece


def measured_radius(piece: Piece) -> float:
    """Return a piece's radius, mm, from its curvature; a cylinder bend's where it is unrolled.

    For a bend on the coil's cylinder the unrolled curvature is the part of the curvature vector
    that lies in the cylinder.
    """
    segment = piece.segment
    s = np.array([segment.length / 2])
    curvature = segment.curvature(s)[0]
    if isinstance(segment, CylinderBend):
        outward = segment.normal(s)[0]
        curvature = curvature - outward * float(curvature @ outward)
    elif not isinstance(segment, Arc):
        return 1.0 / segment.max_curvature
    return 1.0 / math.sqrt(float(curvature @ curvature))
