r"""Short twisted loop: across the end of the body, then half a turn of loop over the centre.

```
      .-'''-.
     /       \
    |         '
     \_______       rise rb, crossing line, bend r2 in the coil's plane
   ===========+
```
Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.4 R, 0.75 R ≤ r1 ≤ 0.95 R, 0.45 r1 ≤ rb ≤ 0.75 r1.
"""

from __future__ import annotations

import math

from springgeo.curve import Piece
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits, tip
from springgeo.ends.shared.axial_plane import AxialPlane
from springgeo.ends.shared.crossing_loop import bend_radius, loop_and_rise
from springgeo.ends.shared.guarantee import from_index
from springgeo.ends.shared.parameters import OpenRisingHook
from springgeo.ends.shared.plan_bend import plan_bend
from springgeo.ends.shared.written_out import written_out
from springgeo.errors import refused
from springgeo.text import quantity as q
from springgeo.text.shown import said

# how much the crossing line rises over one coil radius, in wire diameters: clears the far coil
RISE = 0.3


class ShortTwistedLoop(OpenRisingHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 of the bend next to the coil (2 d, at most 0.4 R), ``loop_radius`` r1
    (0.9 R), ``rise_radius`` of the bend from the crossing line up into the loop (0.6 r1),
    ``hook_length`` from the body's end face to the inside of the loop (rise starts the loop
    square to the axis), ``opening`` from the cut end to the body's end face (half a turn).
    """


def shape(p: ShortTwistedLoop, end: BodyEnd) -> EndShape:
    """Return the wire of a short twisted loop."""
    d, r = end.wire_diameter, end.coil_radius
    r2 = bend_radius(p.bend_radius, end)
    r1, rb = loop_and_rise(p.loop_radius, p.rise_radius, (0.9, 0.6), end)
    slope = math.atan(RISE * d / r)
    arc, q, azimuth = plan_bend(end, r2, slope)
    start = (-math.hypot(q[0], q[1]), float(q[2]))
    height, run = _height_and_run(p, end, r1, rb, start, slope)
    past, tail = tip.half_turn(p.opening, height, r1, d)
    corner = (start[0] + run * math.cos(slope), start[1] + run * math.sin(slope))
    rise = (corner[0] - rb * math.sin(slope), corner[1] + rb * math.cos(slope))
    join = math.atan2(rise[1] - height, rise[0])
    plane = AxialPlane(azimuth)
    pieces = [
        Piece(arc, "bend", "bend"),
        Piece(plane.line(start, corner), "crossing", "straight"),
        Piece(
            plane.arc(rise, rb, slope - math.pi / 2, join + math.pi / 2 - slope), "rise", "straight"
        ),
    ]
    contact = sum(x.segment.length for x in pieces) + r1 * (math.pi / 2 - join)
    pieces.append(
        Piece(plane.arc((0.0, height), r1, join, math.pi / 2 - join + past), "loop", "loop")
    )
    if tail > 1e-9 * d:
        pieces.append(Piece(plane.line((-r1, height), (-r1, height - tail)), "tail", "straight"))
    return EndShape(
        tuple(pieces),
        height + r1 - d,
        azimuth,
        contact,
        r1,
        r2,
        tip.opening_at(past, height, r1, d) - tail,
        built={"rise_radius": rb},
    )


def _height_and_run(
    p: ShortTwistedLoop,
    end: BodyEnd,
    r1: float,
    rb: float,
    start: tuple[float, float],
    slope: float,
) -> tuple[float, float]:
    """Return the loop centre's height and the length of the crossing line, mm.

    The rise touches the loop from inside: its centre lies r1 − rb from the loop's centre.
    """
    c, s = math.cos(slope), math.sin(slope)
    base = (start[0] - rb * s, start[1] + rb * c)
    if p.hook_length is None:
        run = (r1 - rb - base[0]) / c
        return base[1] + run * s, run
    height = limits.hook_length(p.hook_length, end.coil_radius) + end.wire_diameter - r1
    # |base + run (c, s) − (0, h)| = r1 − rb, the root on the far side of the axis
    b = base[0] * c + (base[1] - height) * s
    rest = b * b - (base[0] ** 2 + (base[1] - height) ** 2 - (r1 - rb) ** 2)
    run = -b + math.sqrt(rest) if rest > 0 else -1.0
    if run < 0 or abs(math.asin(max(-1, min(1, (base[1] + run * s - height) / (r1 - rb))))) > 1.0:
        natural = base[1] + (r1 - rb - base[0]) / c * s + r1 - end.wire_diameter
        raise refused(
            "hook-length-does-not-fit",
            "hook_length",
            said(
                "{value} does not suit this loop, whose own length is {limit}; move it toward that,"
                " or change rise_radius or loop_radius",
                **q.lengths(4, value=p.hook_length, limit=natural),
            ),
        )
    return height, run


RANGES = from_index(
    5,
    lambda d, r: {
        "bend_radius": (d, 0.4 * r),
        "loop_radius": (0.75 * r, 0.95 * r),
        "rise_radius": (max(d, 0.34 * r), max(d, 0.56 * r)),
    },
)

END = written_out(
    shape,
    "short twisted loop",
    "Crosses the body's end and turns half a loop over the centre: short and strong.",
    RANGES,
)
