r"""Long square-end hook: a straight leg at the coil's radius, a square turn across the axis.

```
     +-------+      corners r1, straight across the axis
     |       |
     '       |      leg
             |
   ==========+      bend r2, on the coil's cylinder
```
Guaranteed for d ≤ r2 ≤ R/2, d ≤ r1 ≤ 0.6 R, hook length 1.5 D to 4 D, opening D to 1.25 D.
"""

from __future__ import annotations

import math

from springgeo.curve import CylinderBend, Piece
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits
from springgeo.ends.shared.axial_plane import AxialPlane
from springgeo.ends.shared.guarantee import from_index
from springgeo.ends.shared.parameters import OpenHook
from springgeo.ends.shared.written_out import written_out
from springgeo.errors import refused
from springgeo.text import quantity as q
from springgeo.text.shown import said

# the tail left below the far corner of a hook that nobody asked to open, in wire diameters
TAIL = 2.0


class LongSquareEndHook(OpenHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 (2 d, at most R/2), ``loop_radius`` r1 of the two corners (1.5 d, at most
    0.6 R),
    ``hook_length`` from the body's end face to the inside of the straight top (2 D),
    ``opening`` from the cut end to the body's end face (a tail of 2 d below the corner).
    """


def shape(p: LongSquareEndHook, end: BodyEnd) -> EndShape:
    """Return the wire of a long square-end hook."""
    d, r = end.wire_diameter, end.coil_radius
    r2 = limits.bend_radius(
        p.bend_radius, min(2 * d, r / 2), d, end.coil_radius, "the coil's radius"
    )
    r1 = limits.between(
        "loop_radius",
        max(d, min(1.5 * d, 0.6 * r)) if p.loop_radius is None else p.loop_radius,
        d,
        0.8 * end.coil_radius,
        "from one wire diameter to 0.8 of the coil's radius",
        "choose a radius within it",
    )
    length = 4 * r if p.hook_length is None else p.hook_length
    bend = CylinderBend(radius=r, bend_radius=r2, start=end.lead, end=math.pi / 2)
    foot = r2 * math.cos(end.lead)
    top = limits.hook_length(length, end.coil_radius) + d
    tail = _tail(p.opening, top - r1, d)
    if top - r1 < foot:
        raise refused(
            "hook-too-short",
            "hook_length",
            said(
                "{value} is below {limit}, the least for this bend and corner; lengthen it",
                value=limits.mm(length),
                limit=q.least(foot + r1 - d),
            ),
        )
    plane = AxialPlane(bend.swept_azimuth)
    half = r - r1
    pieces = [
        Piece(bend, "bend", "bend"),
        Piece(plane.line((-r, foot), (-r, top - r1)), "leg", "straight"),
        Piece(plane.arc((-half, top - r1), r1, math.pi, -math.pi / 2), "near-corner", "loop"),
    ]
    contact = sum(x.segment.length for x in pieces) + half
    pieces += [
        Piece(plane.line((-half, top), (half, top)), "top", "straight"),
        Piece(plane.arc((half, top - r1), r1, math.pi / 2, -math.pi / 2), "far-corner", "straight"),
    ]
    if tail > 0:  # as wide an opening as there can be leaves none
        pieces.append(Piece(plane.line((r, top - r1), (r, top - r1 - tail)), "tail", "straight"))
    return EndShape(tuple(pieces), top - d, plane.azimuth, contact, r1, r2, top - r1 - tail - d / 2)


def _tail(opening: float | None, corner: float, d: float) -> float:
    """Return the length of the straight end, mm, below a corner at height ``corner``."""
    if opening is None:
        return min(TAIL * d, 0.5 * corner)
    high = corner - d / 2
    asked = limits.between(
        "opening", opening, d, high, "what the tail can leave open", "change it, or hook_length"
    )
    return high - asked


RANGES = from_index(
    0,
    lambda d, r: {
        "bend_radius": (d, max(d, r / 2)),
        "loop_radius": (d, max(d, 0.6 * r)),
        "hook_length": (3 * r, 8 * r),
        "opening": (max(d, r), max(d, 1.5 * r)),
    },
)

END = written_out(
    shape,
    "long square-end hook",
    "A straight leg and a square turn: lies flat on a bar or in a slot.",
    RANGES,
)
