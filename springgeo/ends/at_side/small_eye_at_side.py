r"""Small eye at side: a full loop of reduced diameter in the plane that touches the body.

```
       .-.
      (   |         r1 about half the coil's
       '. |
   ======-'         bend r2
```
Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.4 R, 0.4 R (1.5 d) ≤ r1 ≤ 0.65 R, hook length 0.75 D to 2 D.
"""

from __future__ import annotations

from springgeo.ends.at_side.side_loop import SideLoop, side_loop
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import tip
from springgeo.ends.shared.guarantee import hook_ranges
from springgeo.ends.shared.written_out import written_out


class SmallEyeAtSide(SideLoop):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 from the coil up into the eye (as r1), ``loop_radius`` r1 (0.5 R, at least
    1.5 d), ``hook_length`` from the body's end face to the inside of the eye (with no leg),
    ``opening`` from the cut end to the body's end face (0.5 d).
    """


def shape(p: SmallEyeAtSide, end: BodyEnd) -> EndShape:
    """Return the wire of a small eye at the side."""
    return side_loop(p, end, max(1.5 * end.wire_diameter, 0.5 * end.coil_radius), tip.whole_turn)


END = written_out(
    shape,
    "small eye at side",
    "A closed eye of reduced diameter at the side of the body: takes a thin pin.",
    hook_ranges(5, bend=0.4, loop=(0.4, 0.65), hook=(1.5, 4.0)),
)
