r"""Double twisted full loop: two turns of loop side by side over the centre of the body.

```
      .-'''-.            seen along the pin:   | |
     /       \                                 | |\
    |         |                                | | |
     \       /                                 | | '
      '-.___.-'___                             |_|
   ============+      foot of the first turn on the axis, bend r2 in the coil's plane
```
The first turn stands over the centre and carries the load; past its apex the wire steps aside,
clear of itself, to a second turn that keeps the pin from slipping out.
Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.4 R, 0.7 R ≤ r1 ≤ R, the loop resting on the body.
"""

from __future__ import annotations

import math

import numpy as np

from springgeo.curve import Frame, Piece
from springgeo.curve.frame import Array, vector
from springgeo.curve.kinds.eased_coil import EasedCoil
from springgeo.ends.over_centre.full_twisted_loop import FullTwistedLoop, foot, loop_and_length
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared.axial_plane import AxialPlane
from springgeo.ends.shared.crossing_loop import bend_radius
from springgeo.ends.shared.guarantee import hook_ranges
from springgeo.ends.shared.parameters import Hook
from springgeo.ends.shared.written_out import written_out

# distance of the two turns across the wire, in wire diameters, and the angle of the step aside
BESIDE, STEP = 1.06, math.radians(150)
# greatest slope of the smooth step
STEEPEST = 1.875
# where the second turn ends, past the first apex
END_AT = math.radians(360 + 90)


class DoubleTwistedFullLoop(Hook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 (2 d, at most 0.4 R), ``loop_radius`` r1 ((hook_length + d)/2, at most R),
    ``hook_length`` from the body's end face to the inside of the loop (2 r1 − d, the coil's
    inside diameter when neither is given).
    """


def shape(p: DoubleTwistedFullLoop, end: BodyEnd) -> EndShape:
    """Return the wire of a double twisted full loop."""
    d = end.wire_diameter
    r2 = bend_radius(p.bend_radius, end)
    r1, length = loop_and_length(FullTwistedLoop(**p.model_dump()), end)
    height = length + d - r1
    arc, q, azimuth, slope = foot(end, r2, r1, height)
    plane = AxialPlane(azimuth)
    touch = (r1 * math.sin(slope), height - r1 * math.cos(slope))
    loop = plane.arc((0.0, height), r1, slope - math.pi / 2, math.pi - slope)
    pieces = [
        Piece(arc, "bend", "bend"),
        Piece(plane.line((-math.hypot(q[0], q[1]), float(q[2])), touch), "crossing", "straight"),
        Piece(loop, "loop", "loop"),
    ]
    contact = sum(x.segment.length for x in pieces)
    pieces += second_turn(plane, height, r1, d)
    last = np.array([pieces[-1].segment.length])
    tip, t = pieces[-1].segment.point(last)[0], pieces[-1].segment.tangent(last)[0]
    cut = float(tip[2]) - d / 2 * math.sqrt(1 - float(t[2]) ** 2)
    return EndShape(tuple(pieces), length, azimuth, contact, r1, r2, cut - d / 2)


def second_turn(plane: AxialPlane, height: float, r1: float, d: float) -> list[Piece]:
    """Return the wire past the apex: step aside, round beside the first turn, step again."""
    up = vector(0.0, 0.0, 1.0)
    onward = plane.point(-1.0, 0.0)
    # away from the bend, which lies on the side of the coil that the wire comes from
    aside = np.cross(up, onward)
    centre, apart = plane.point(0.0, height), BESIDE * d
    # the turns lie side by side on a slant: apart across the wire, a little more along the pin
    shift = apart / math.sqrt(1 - (apart * STEEPEST / (STEP * r1)) ** 2)

    def eased(origin: Array, share: float) -> EasedCoil:
        axes = np.column_stack([up, onward, aside])
        turns = STEP / (2 * math.pi)
        return EasedCoil(
            frame=Frame(origin, axes),
            radius=r1,
            end_radius=r1,
            pitch=0.0,
            end_pitch=0.0,
            turns=turns,
            lift=shift,
            share=share,
        )

    moved = AxialPlane(plane.azimuth, float(aside @ plane.normal) * shift)
    round_ = moved.arc((0.0, height), r1, math.pi / 2 + STEP, 2 * math.pi - STEP)
    share = (END_AT - 2 * math.pi) / STEP
    return [
        Piece(eased(centre, 1.0), "step", "straight"),
        Piece(round_, "second-turn", "straight"),
        Piece(eased(centre + shift * aside, share), "second-step", "straight"),
    ]


END = written_out(
    shape,
    "double twisted full loop",
    "Two turns side by side over the centre: the pin cannot slip out.",
    hook_ranges(5, bend=0.4, loop=(0.7, 1.0)),
)
