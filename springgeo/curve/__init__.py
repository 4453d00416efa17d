"""The centreline: immutable vectorised segments and the labelled path made of them.

Ground floor: imports numpy alone. Everything that needs the shape of the wire reads a ``Path``.
"""

from springgeo.curve.approach.wire import Approach, body_approach, hook_approach
from springgeo.curve.box import tube_box
from springgeo.curve.frame import Frame
from springgeo.curve.kinds.arc import Arc
from springgeo.curve.kinds.blend import Blend
from springgeo.curve.kinds.conical_helix import ConicalHelix
from springgeo.curve.kinds.cylinder_bend import CylinderBend
from springgeo.curve.kinds.helix import Helix, lead_angle, pitch_for_distance, turn_distance
from springgeo.curve.kinds.line import Line
from springgeo.curve.measured import measured_radius
from springgeo.curve.path import Path, Samples
from springgeo.curve.piece import Piece, Role
from springgeo.curve.segment import Segment

__all__ = [
    "Approach",
    "Arc",
    "Blend",
    "ConicalHelix",
    "CylinderBend",
    "Frame",
    "Helix",
    "Line",
    "Path",
    "Piece",
    "Role",
    "Samples",
    "Segment",
    "body_approach",
    "hook_approach",
    "lead_angle",
    "measured_radius",
    "pitch_for_distance",
    "tube_box",
    "turn_distance",
]
