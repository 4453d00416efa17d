r"""Straight annealed end: the wire crosses to the axis and runs straight on, left soft.

```
        |
        |          straight on the axis, to be bent or gripped where the spring is fitted
        |
         \____     rise r1, crossing line, bend r2 in the coil's plane
   ============+
```
The load enters at the cut end. Annealed wire has lost the strength of spring wire: the stress
at the rise must be held against that of the annealed state. Guaranteed for index ≥ 5,
d ≤ r2 ≤ 0.4 R, d ≤ r1 ≤ 0.5 R, length 1.5 R to 6 R.
"""

from __future__ import annotations

import math

from springgeo.curve import Piece
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits
from springgeo.ends.shared.axial_plane import AxialPlane
from springgeo.ends.shared.crossing_loop import bend_radius
from springgeo.ends.shared.guarantee import hook_ranges
from springgeo.ends.shared.parameters import Hook
from springgeo.ends.shared.plan_bend import plan_bend
from springgeo.ends.shared.written_out import written_out
from springgeo.errors import refused
from springgeo.text.quantity import least, most
from springgeo.text.shown import said

SLOPE = math.radians(6)


class StraightAnnealedEnd(Hook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 next to the coil (2 d, at most 0.4 R), ``loop_radius`` r1 of the rise from
    the crossing line to the axis (2 d, at most 0.5 R), ``hook_length`` from the body's end face
    to the cut end (2 D).
    """


def shape(p: StraightAnnealedEnd, end: BodyEnd) -> EndShape:
    """Return the wire of a straight annealed end."""
    d, r = end.wire_diameter, end.coil_radius
    r2 = bend_radius(p.bend_radius, end)
    rise = limits.between(
        "loop_radius",
        max(d, min(2 * d, 0.5 * r)) if p.loop_radius is None else p.loop_radius,
        d,
        max(d, 0.8 * end.coil_radius),
        "from one wire diameter to 0.8 of the coil's radius",
        "choose a radius within it",
    )
    length = limits.hook_length(4 * r if p.hook_length is None else p.hook_length, end.coil_radius)
    top = length + end.face
    arc, q, azimuth = plan_bend(end, r2, SLOPE)
    c, s = math.cos(SLOPE), math.sin(SLOPE)
    start = (-math.hypot(q[0], q[1]), float(q[2]))
    run = (rise * s - rise - start[0]) / c
    if run < 0:
        raise refused(
            "rise-does-not-fit",
            "loop_radius",
            said(
                "{value} leaves no room for the bend (allowed with it: at most {limit}); reduce it,"
                " or reduce bend_radius",
                value=limits.mm(rise),
                limit=most(-start[0] / (1 - s)),
            ),
        )
    foot = start[1] + run * s + rise * c
    if top < foot:
        raise refused(
            "hook-too-short",
            "hook_length",
            said(
                "{value} is below {limit}, the least for this bend and rise; lengthen it, or reduce"
                " loop_radius",
                value=limits.mm(length),
                limit=least(foot - end.face),
            ),
        )
    plane = AxialPlane(azimuth)
    corner = (start[0] + run * c, start[1] + run * s)
    up = plane.arc((-rise, foot), rise, SLOPE - math.pi / 2, math.pi / 2 - SLOPE)
    pieces = [
        Piece(arc, "bend", "bend"),
        Piece(plane.line(start, corner), "crossing", "straight"),
        Piece(up, "rise", "loop"),
    ]
    if top - foot > 1e-9 * d:
        pieces.append(Piece(plane.line((0.0, foot), (0.0, top)), "straight", "straight"))
    return EndShape(
        tuple(pieces),
        length,
        azimuth,
        loop_radius=rise,
        bend_radius=r2,
        opening=length,
        reach=0.0,
    )


END = written_out(
    shape,
    "straight annealed end",
    "Soft straight wire on the axis, to be formed or gripped where it is fitted.",
    hook_ranges(5, bend=0.4, loop=(0.0, 0.5), hook=(1.5, 6.0), least=1.0),
)
