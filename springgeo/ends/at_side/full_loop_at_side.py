r"""Full loop at side: the last coil bent up, whole, in the plane that touches the body.

```
      .-'''-.
     /       \        loop r1, about the coil's own
    |         |
     \ .      |       bend r2
   ==========-'
```
Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.7 R, 0.7 R ≤ r1 ≤ R, hook length D to 1.5 D. The pull is
beside the axis by about R: more stress in the body than a loop over the centre gives.
"""

from __future__ import annotations

from springgeo.ends.at_side.side_loop import SideLoop, side_loop
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import tip
from springgeo.ends.shared.guarantee import hook_ranges
from springgeo.ends.shared.written_out import written_out


class FullLoopAtSide(SideLoop):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 from the coil up into the loop (as r1), ``loop_radius`` r1 (the coil's R),
    ``hook_length`` from the body's end face to the inside of the loop (with no leg, about the
    coil's inside diameter), ``opening`` from the cut end to the body's end face (0.5 d).
    """


def shape(p: FullLoopAtSide, end: BodyEnd) -> EndShape:
    """Return the wire of a full loop at the side."""
    return side_loop(p, end, max(1.5 * end.wire_diameter, end.coil_radius), tip.whole_turn)


END = written_out(
    shape,
    "full loop at side",
    "The last coil bent straight up: cheap, but it pulls beside the axis.",
    hook_ranges(5, bend=0.7, loop=(0.7, 1.0), hook=(2.0, 3.0)),
)
