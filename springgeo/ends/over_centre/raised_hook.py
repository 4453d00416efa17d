r"""Raised hook: a straight leg carries the loop well clear of the body, hook end turned in.

```
       .---.
      /     \
      '      \
              |   leg
              |
   ===========+
```
Guaranteed for d ≤ r2 ≤ R/2, R/2 + d ≤ r1 ≤ R, hook length 1.5 D to 3 D. A small opening
closes the hook into a loop of up to 345°.
"""

from __future__ import annotations

import math

from springgeo.ends.over_centre.machine_half_loop import loop_radius
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits, tip
from springgeo.ends.shared.axial_hook import axial_hook, reachable_height
from springgeo.ends.shared.guarantee import from_index
from springgeo.ends.shared.parameters import OpenHook
from springgeo.ends.shared.written_out import written_out

# how far past its apex a raised hook goes unless an opening is asked for: common practice
PAST = math.radians(115)
# and the least it leaves open, in wire diameters: below one the trade calls it a loop
OPENING = 1.0


class RaisedHook(OpenHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 (2 d, at most R/2), ``loop_radius`` r1 (0.85 R), ``hook_length`` from the
    body's end face to the inside of the hook (1.5 D), ``opening`` from the cut end to the
    body's end face (the wire ends 115° past the apex).
    """


def shape(p: RaisedHook, end: BodyEnd) -> EndShape:
    """Return the wire of a raised hook."""
    d = end.wire_diameter
    r2 = limits.bend_radius(
        p.bend_radius, min(2 * d, end.coil_radius / 2), d, end.coil_radius, "the radius of the coil"
    )
    r1 = loop_radius(0.85 * end.coil_radius if p.loop_radius is None else p.loop_radius, end)
    length = 3 * end.coil_radius if p.hook_length is None else p.hook_length
    length = limits.hook_length(length, end.coil_radius)
    height = reachable_height(end, r2, r1, length + d - r1)
    if p.opening is not None:
        past = tip.angle_for(p.opening, height, r1, d)
    elif tip.opening_at(PAST, height, r1, d) > OPENING * d:
        past = PAST
    else:
        # a low hook has no room to turn in that far: it stops clear of the body
        past = tip.angle_for(OPENING * d, height, r1, d)
    return axial_hook(end, r2, r1, height, past, 0.0, tip.opening_at(past, height, r1, d))


RANGES = from_index(
    0,
    lambda d, r: {
        "bend_radius": (d, max(d, r / 2)),
        "loop_radius": (min(r, r / 2 + d), r),
        "hook_length": (3 * r, 6 * r),
    },
)

END = written_out(
    shape,
    "raised hook",
    "A straight leg carries the hook clear of the body: reaches pins further away.",
    RANGES,
)
