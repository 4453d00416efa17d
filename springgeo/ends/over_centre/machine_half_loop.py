r"""Machine half loop: the last half coil bent up over the body's centre, open.

```
       .-'''-.
      /       \
     |         |
     '   gap   |  <- bend r2, on the coil's cylinder
   ============+
```
Guaranteed for d ≤ r2 ≤ R, R/2 + d ≤ r1 ≤ R (centreline radii), a hook length of D to 2 D and
an opening of 0.2 d to R/2: a bend of r2 = R brings the tail round to where the coil rises to
0.16 d below it.
"""

from __future__ import annotations

import math

from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits, tip
from springgeo.ends.shared.axial_hook import axial_hook, least_height, reachable_height
from springgeo.ends.shared.guarantee import from_index
from springgeo.ends.shared.parameters import OpenHook
from springgeo.ends.shared.written_out import written_out
from springgeo.errors import refused
from springgeo.specification.quantity import Length


class MachineHalfLoop(OpenHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 (2 d, at most R/2), ``loop_radius`` r1 (the coil's R), ``leg`` the axial
    distance from the end of the bend to the centre of the loop (as short as it goes) or
    ``hook_length`` from the body's end face to the inside of the loop, ``opening`` from the cut
    end to the body's end face (half a turn of loop).
    """

    leg: Length | None = None


def shape(p: MachineHalfLoop, end: BodyEnd) -> EndShape:
    """Return the wire of a machine half loop."""
    d = end.wire_diameter
    r2 = limits.bend_radius(
        p.bend_radius, min(2 * d, end.coil_radius / 2), d, end.coil_radius, "the radius of the coil"
    )
    r1 = loop_radius(p.loop_radius, end)
    height = reachable_height(end, r2, r1, _height(p, end, r1, r2))
    past, tail = tip.half_turn(p.opening, height, r1, d)
    return axial_hook(end, r2, r1, height, past, tail, tip.opening_at(past, height, r1, d) - tail)


def loop_radius(value: float | None, end: BodyEnd) -> float:
    """Return r1: the coil's radius unless given, and no larger."""
    if value is None:
        return end.coil_radius
    wanted = limits.between(
        "loop_radius",
        value,
        end.wire_diameter,
        end.coil_radius,
        "from one wire diameter to the coil's own radius",
        "choose a radius within it",
    )
    # a loaded spring's coil is slightly smaller than the free one: its loop goes with it
    return min(wanted, end.coil_radius)


def _height(p: MachineHalfLoop, end: BodyEnd, r1: float, r2: float) -> float:
    if p.leg is not None and p.hook_length is not None:
        raise refused(
            "two-forms", "leg", "leg and hook_length say the same thing; give one of them"
        )
    if p.hook_length is not None:
        return limits.hook_length(p.hook_length, end.coil_radius) + end.wire_diameter - r1
    if p.leg is not None:
        leg = limits.between(
            "leg",
            p.leg,
            0.0,
            20 * end.coil_radius,
            "from nothing to ten coil diameters",
            "choose a length within it",
        )
        return r2 * math.cos(end.lead) + leg
    return least_height(end, r2, r1)


RANGES = from_index(
    0,
    lambda d, r: {
        "bend_radius": (d, r),
        "loop_radius": (min(r, r / 2 + d), r),
        "hook_length": (2 * r, 4 * r),
        "opening": (0.2 * d, r / 2),
    },
)

END = written_out(
    shape,
    "machine half loop",
    "Half a coil bent up over the centre, open: simple to make, easy to hook in.",
    RANGES,
)
