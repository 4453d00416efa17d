r"""Full twisted loop: a whole turn of loop standing over the centre of the body.

```
      .-'''-.
     /       \
    |         |
     \       '
      '-._____      foot of the loop on the axis, line, bend r2 in the coil's plane
   ============+
```
A bend above 0.45 R cannot turn onto the axis within the coil; it is then made on the coil's
cylinder and the loop goes round from the side, the full loop a machine bends.

With r1 = (D_i + d)/2 = R the hook length is D_i and L0 = (2C − 1 + N_b) d (Shigley 10-39).
Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.4 R, 0.7 R ≤ r1 ≤ R, opening 0.4 d to 0.35 R, the loop
resting on the body; below index 5 for d ≤ r2 ≤ 0.9 R and r1 = R. On a body wound open the bend
rises with the coil toward the cut end: the least opening is then 0.4 d + 0.08 (pitch − d).
"""

from __future__ import annotations

import math

from springgeo.curve import Arc, Piece
from springgeo.curve.frame import Array
from springgeo.curve.root import bisect
from springgeo.ends.protocol import BodyEnd, EndShape, Range
from springgeo.ends.shared import limits, tip
from springgeo.ends.shared.axial_hook import axial_hook, reachable_height
from springgeo.ends.shared.axial_plane import AxialPlane
from springgeo.ends.shared.parameters import OpenHook
from springgeo.ends.shared.plan_bend import LARGEST, landing, plan_bend
from springgeo.ends.shared.written_out import written_out
from springgeo.errors import refused
from springgeo.text import quantity as q
from springgeo.text.shown import said

# the opening of a loop that nobody asked to open: the trade calls less than one d a loop
OPENING = 0.5
# the least guaranteed opening over a body wound solid, in wire diameters, and what each wire
# diameter of further pitch adds (measured over index 5 to 25: at most 0.06)
LEAST, PER_PITCH = 0.4, 0.08


class FullTwistedLoop(OpenHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 (2 d, at most 0.4 R; larger ones bend on the coil's cylinder),
    ``hook_length`` from the body's end face to the inside of the loop (2 r1 − d, the coil's
    inside diameter when neither is given),
    ``loop_radius`` r1 ((hook_length + d)/2, at most R), ``opening`` from the cut end to the
    body's end face (0.5 d, more over a body wound wide open).
    """


def shape(p: FullTwistedLoop, end: BodyEnd) -> EndShape:
    """Return the wire of a full twisted loop."""
    d, r = end.wire_diameter, end.coil_radius
    r2 = limits.bend_radius(
        p.bend_radius, min(2 * d, 0.4 * r), d, end.coil_radius, "the radius of the coil"
    )
    r1, length = loop_and_length(p, end)
    on_coil = r2 > LARGEST * end.coil_radius
    if on_coil:
        r1 = min(r1, r)
    height = length + d - r1
    if on_coil:
        height = reachable_height(end, r2, r1, height)
    opening = p.opening
    if opening is None:
        least = max(OPENING * d, _least_opening(end))
        opening = max(least, tip.opening_at(tip.CLOSED, height, r1, d))
    past = tip.angle_for(opening, height, r1, d)
    if on_coil:
        return axial_hook(end, r2, r1, height, past, 0.0, opening)
    arc, q, azimuth, slope = foot(end, r2, r1, height)
    plane = AxialPlane(azimuth)
    touch = (r1 * math.sin(slope), height - r1 * math.cos(slope))
    pieces = [
        Piece(arc, "bend", "bend"),
        Piece(plane.line((-math.hypot(q[0], q[1]), float(q[2])), touch), "crossing", "straight"),
    ]
    before = math.pi - slope
    contact = sum(x.segment.length for x in pieces) + r1 * before
    pieces.append(
        Piece(plane.arc((0.0, height), r1, slope - math.pi / 2, before + past), "loop", "loop")
    )
    return EndShape(tuple(pieces), length, azimuth, contact, r1, r2, opening)


def loop_and_length(p: FullTwistedLoop, end: BodyEnd) -> tuple[float, float]:
    """Return r1 and the hook length, mm: either follows from the other."""
    d, r = end.wire_diameter, end.coil_radius
    wanted = p.loop_radius
    if wanted is None and p.hook_length is not None:
        limits.between(
            "hook_length",
            p.hook_length,
            2 * d,
            6 * r,
            "from a loop of two wire diameters to 3 D",
            "choose a length within it",
        )
        wanted = min(r, (p.hook_length + d) / 2)
    r1 = limits.between(
        "loop_radius",
        r if wanted is None else wanted,
        1.5 * d,
        end.coil_radius,
        "from 1.5 wire diameters to the coil's radius",
        "choose a radius within it",
    )
    least = 2 * r1 - d
    length = least if p.hook_length is None else p.hook_length
    return r1, limits.between(
        "hook_length",
        length,
        least,
        6 * r,
        "from a loop resting on the body to 3 D",
        "change it, or loop_radius",
    )


def foot(end: BodyEnd, r2: float, r1: float, height: float) -> tuple[Arc, Array, float, float]:
    """Return the bend and the slope at which its line is tangent to the loop's circle.

    The line through the bend's end Q at slope σ passes the loop's centre at the distance
    ``−u_Q sin σ + (h − z_Q) cos σ``, which falls with σ; it must equal r1.
    """

    def excess(slope: float) -> float:
        q = landing(end, r2, slope)
        return -q.out * math.sin(slope) + (height - q.up) * math.cos(slope) - r1

    low, high = -2 * end.lead, math.radians(50)
    if excess(high) > 0:
        raise refused(
            "hook-too-long",
            "hook_length",
            said(
                "{value} would make its line rise at more than 50 deg; shorten it, or choose a "
                "raised hook",
                value=q.length(height + r1 - end.wire_diameter, 4),
            ),
        )
    slope = bisect(excess, low, high)
    return *plan_bend(end, r2, slope), slope


def _least_opening(end: BodyEnd) -> float:
    d = end.wire_diameter
    return LEAST * d + PER_PITCH * max(0.0, end.pitch - d)


def ranges(end: BodyEnd) -> Range:
    """Return the guaranteed range of each parameter, mm."""
    d, r = end.wire_diameter, end.coil_radius
    if r < 2.5 * d:
        return {"bend_radius": (d, 0.9 * r)}
    return {
        "bend_radius": (d, 0.4 * r),
        "loop_radius": (max(1.5 * d, 0.7 * r), r),
        "opening": (_least_opening(end), 0.35 * r),
    }


END = written_out(
    shape,
    "full twisted loop",
    "A whole turn standing over the centre: holds its pin from all sides.",
    ranges,
)
