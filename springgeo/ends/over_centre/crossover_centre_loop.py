r"""Crossover centre loop: the wire crosses the body's end and stands up into a loop.

```
      .-'''-.
     /       \
    |         '
    |
     \_______        crossing line, rising
   ===========+
```
Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.4 R, 0.7 R ≤ r1 ≤ 0.85 R, hook length D_i to 3 R.
"""

from __future__ import annotations

import math

from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits, tip
from springgeo.ends.shared.crossing_loop import bend_radius, crossing, loop_and_rise, loop_over
from springgeo.ends.shared.guarantee import from_index
from springgeo.ends.shared.parameters import OpenRisingHook
from springgeo.ends.shared.written_out import written_out

# how steeply the wire crosses the body's end: common practice
SLOPE = math.radians(6)


class CrossoverCentreLoop(OpenRisingHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 next to the coil (2 d, at most 0.4 R), ``loop_radius`` r1 (0.8 R),
    ``rise_radius`` of the bend up into the leg (0.5 r1), ``hook_length`` from the body's end face
    to the inside of the loop (the coil's inside diameter), ``opening`` from the cut end to the
    body's end face (half a turn).
    """


def shape(p: CrossoverCentreLoop, end: BodyEnd) -> EndShape:
    """Return the wire of a crossover centre loop."""
    d = end.wire_diameter
    r2 = bend_radius(p.bend_radius, end)
    r1, rise = loop_and_rise(p.loop_radius, p.rise_radius, (0.8, 0.5), end)
    length = end.inside_diameter if p.hook_length is None else p.hook_length
    height = limits.hook_length(length, end.coil_radius) + d - r1
    past, tail = tip.half_turn(p.opening, height, r1, d)
    foot = crossing(end, r2, rise, r1, SLOPE)
    opening = tip.opening_at(past, height, r1, d) - tail
    return loop_over(end, foot, r1, r2, height, past, tail, opening)


RANGES = from_index(
    5,
    lambda d, r: {
        "bend_radius": (d, 0.4 * r),
        "loop_radius": (0.7 * r, 0.85 * r),
        "hook_length": (2 * r - d, 3 * r),
    },
)

END = written_out(
    shape,
    "crossover centre loop",
    "Crosses the body's end and stands up into an open loop over the centre.",
    RANGES,
)
