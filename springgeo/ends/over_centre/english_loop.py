r"""English loop: bent up sharply at the coil's side, then a whole turn over the centre.

```
      .-'''-.
     /       \
    |         |
     \    .   |        leg, loop r1 closed as far as it goes
   ===========+        sharp bend r2, on the coil's cylinder
```
Longer than the inside diameter, since the bend stands below the loop; the sharp bend is where it
breaks. Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.4 R, 0.75 R ≤ r1 ≤ 0.95 R, hook length D to 1.5 D.
"""

from __future__ import annotations

import math

from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits, tip
from springgeo.ends.shared.axial_hook import axial_hook, reachable_height
from springgeo.ends.shared.guarantee import hook_ranges
from springgeo.ends.shared.parameters import OpenHook
from springgeo.ends.shared.written_out import written_out

# hook length over the coil's inside diameter: EN 13906-2 Annex A as spring makers quote it
LENGTH = 1.1


class EnglishLoop(OpenHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2, sharp (1.5 d), ``loop_radius`` r1 (what closes the loop down to 0.5 d, at
    most R), ``hook_length`` from the body's end face to the inside of the loop (1.1 of the
    coil's inside diameter), ``opening`` from the cut end to the body's end face (0.5 d, or as
    far as the loop closes).
    """


def shape(p: EnglishLoop, end: BodyEnd) -> EndShape:
    """Return the wire of an English loop."""
    d, r = end.wire_diameter, end.coil_radius
    r2 = limits.bend_radius(
        p.bend_radius, min(1.5 * d, r / 2), d, end.coil_radius, "the coil's radius"
    )
    # a hair over the least, since the inside diameter of a narrow coil leaves no room for the bend
    length = max(LENGTH * end.inside_diameter, r + r2) if p.hook_length is None else p.hook_length
    length = limits.hook_length(length, end.coil_radius)
    r1 = limits.between(
        "loop_radius",
        _closed(length, end) if p.loop_radius is None else p.loop_radius,
        d,
        end.coil_radius,
        "from one wire diameter to the coil's radius",
        "choose a radius within it",
    )
    height = reachable_height(end, r2, min(r1, r), length + d - r1)
    past, _ = tip.whole_turn(p.opening, height, r1, d)
    return axial_hook(end, r2, min(r1, r), height, past, 0.0, tip.opening_at(past, height, r1, d))


def _closed(length: float, end: BodyEnd) -> float:
    """Return the r1 at which the loop, closed as far as it goes, leaves half a wire diameter."""
    c, d = -math.cos(tip.CLOSED), end.wire_diameter
    return max(d, min(end.coil_radius, (length - 0.5 * d * c) / (1 + c)))


END = written_out(
    shape,
    "English loop",
    "A whole turn over the centre, bent up sharply at the coil's side.",
    hook_ranges(5, bend=0.4, loop=(0.75, 0.95), hook=(2.0, 3.0)),
)
