r"""Small eye over the centre: a full loop of reduced diameter standing on the body's axis.

```
        .-.
       (   )         r1 about half the coil's
        '-.___       foot of the eye on the axis, line, bend r2 in the coil's plane
   ============+
```
The smaller arm of the loop lowers the bending stress at point A. Guaranteed for index ≥ 5,
d ≤ r2 ≤ 0.4 R, 0.4 R (1.5 d) ≤ r1 ≤ 0.65 R, the eye resting on the body.
"""

from __future__ import annotations

from springgeo.ends.over_centre import full_twisted_loop
from springgeo.ends.over_centre.full_twisted_loop import FullTwistedLoop
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared.guarantee import hook_ranges
from springgeo.ends.shared.parameters import OpenHook
from springgeo.ends.shared.written_out import written_out


class SmallEyeOverCentre(OpenHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 (2 d, at most 0.4 R), ``loop_radius`` r1 (0.5 R, at least 1.5 d),
    ``hook_length`` from the body's end face to the inside of the eye (2 r1 − d), ``opening``
    from the cut end to the body's end face (0.5 d).
    """


def shape(p: SmallEyeOverCentre, end: BodyEnd) -> EndShape:
    """Return the wire of a small eye: a full twisted loop with its own default radius."""
    r1 = (
        max(1.5 * end.wire_diameter, 0.5 * end.coil_radius)
        if p.loop_radius is None
        else p.loop_radius
    )
    wanted = {**p.model_dump(), "loop_radius": r1}
    return full_twisted_loop.shape(FullTwistedLoop(**wanted), end)


END = written_out(
    shape,
    "small eye over centre",
    "A full loop of reduced diameter on the axis: less bending in the hook.",
    hook_ranges(5, bend=0.4, loop=(0.4, 0.65)),
)
