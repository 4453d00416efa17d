r"""Hook at side: a small open hook in the plane that touches the body.

```
      .---.
     /     \
     '      |        loop r1
            |        leg
   ========-'        bend r2
```
Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.5 R, 0.6 R ≤ r1 ≤ 0.9 R, hook length D to 2.5 D.
"""

from __future__ import annotations

import math

from springgeo.ends.at_side.side_loop import SideLoop, side_loop
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import tip
from springgeo.ends.shared.guarantee import hook_ranges
from springgeo.ends.shared.written_out import written_out

# how far the hook goes past its apex: common practice
PAST = math.radians(110)
# and the least it leaves open, in wire diameters
OPENING = 1.0


class HookAtSide(SideLoop):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 from the coil up into the hook (as r1), ``loop_radius`` r1 (0.75 R),
    ``hook_length`` from the body's end face to the inside of the hook (with no leg),
    ``opening`` from the cut end to the body's end face (the wire ends 110° past the apex).
    """


def _past(opening: float | None, height: float, r1: float, d: float) -> tuple[float, float]:
    if opening is None and tip.opening_at(PAST, height, r1, d) > OPENING * d:
        return PAST, 0.0
    return tip.angle_for(OPENING * d if opening is None else opening, height, r1, d), 0.0


def shape(p: HookAtSide, end: BodyEnd) -> EndShape:
    """Return the wire of a hook at the side."""
    return side_loop(p, end, max(1.5 * end.wire_diameter, 0.75 * end.coil_radius), _past)


END = written_out(
    shape,
    "hook at side",
    "A small open hook at the side of the body: hooks in easily, pulls off the axis.",
    hook_ranges(5, bend=0.5, loop=(0.6, 0.9), hook=(2.0, 5.0)),
)
