r"""V-hook: the leg leans in to a small round at the axis and comes down again on the far side.

```
        ^           round r1 on the axis
       / \
      /   \         leg, leaning in
     '     \
   =========+       bend r2, on the coil's cylinder
```
Guaranteed for d ≤ r2 ≤ R/2, d ≤ r1 ≤ 0.5 R, hook length 1.25 D to 3 D.
"""

from __future__ import annotations

import math

from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits
from springgeo.ends.shared.axial_hook import axial_hook, leg_for, reachable_height
from springgeo.ends.shared.guarantee import hook_ranges
from springgeo.ends.shared.parameters import OpenHook
from springgeo.ends.shared.written_out import written_out

# the free side's length over the leg's, unless an opening is asked for
FREE_SIDE = 0.55


class VHook(OpenHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 (2 d, at most R/2), ``loop_radius`` r1 of the round at the top (1.5 d, at
    most 0.5 R), ``hook_length`` from the body's end face to the inside of the round (1.5 D),
    ``opening`` from the cut end to the body's end face (the free side is 0.55 of the leg).
    """


def shape(p: VHook, end: BodyEnd) -> EndShape:
    """Return the wire of a V-hook."""
    d, r = end.wire_diameter, end.coil_radius
    r2 = limits.bend_radius(
        p.bend_radius, min(2 * d, r / 2), d, end.coil_radius, "the coil's radius"
    )
    default = max(d, min(1.5 * d, 0.5 * r))
    r1 = limits.between(
        "loop_radius",
        default if p.loop_radius is None else p.loop_radius,
        d,
        0.8 * end.coil_radius,
        "from one wire diameter to 0.8 of the coil's radius",
        "choose a radius within it",
    )
    length = 3 * r if p.hook_length is None else p.hook_length
    height = limits.hook_length(length, end.coil_radius) + d - r1
    leg = leg_for(end, r2, r1, reachable_height(end, r2, r1, height))
    past = math.pi / 2 - leg.lean
    # where the round ends, the cut disc's lowest point, and what the free side takes from it
    below = height + r1 * math.sin(leg.lean) - d / 2 * math.sin(leg.lean) - d / 2
    tail = FREE_SIDE * leg.length
    if p.opening is not None:
        asked = limits.between(
            "opening",
            p.opening,
            d,
            below,
            "what the free side can leave open",
            "change it, or hook_length",
        )
        tail = (below - asked) / math.cos(leg.lean)
    return axial_hook(end, r2, r1, height, past, tail, below - tail * math.cos(leg.lean))


END = written_out(
    shape,
    "V-hook",
    "Leans in to a small round on the axis: centres itself on a thin pin or wire.",
    hook_ranges(0, bend=0.5, loop=(0.0, 0.5), hook=(2.5, 6.0), least=1.0),
)
