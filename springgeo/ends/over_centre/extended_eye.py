r"""Extended eye: a long straight leg beside the axis, a small eye closed back to the leg.

```
      .--.
     /    \
    |      |
    | \__.'
    |           leg
     \____
   =======+===
```
Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.4 R, 0.4 R (1.5 d) ≤ r1 ≤ 0.8 R, length 1.6 D to 5 D.
"""

from __future__ import annotations

import math

from springgeo.ends.over_centre import extended
from springgeo.ends.over_centre.extended import Extended
from springgeo.ends.protocol import BodyEnd
from springgeo.ends.shared.sketch import sketch_in

# the gap left between the cut end of the eye and its own leg, in wire diameters
GAP = 0.3


def _past(p: Extended, end: BodyEnd) -> float:
    """Return how far the eye goes past its apex, rad: it closes as far as its own leg allows.

    The cut end comes to 1 + ``GAP`` wire diameters of the leg, centre to centre: past the apex
    by φ it lies at u = −r1 sin φ, the leg at u = r1.
    """
    r1 = (
        p.loop_radius
        if p.loop_radius is not None
        else max(1.5 * end.wire_diameter, 0.5 * end.coil_radius)
    )
    reach = 1.0 - (1.0 + GAP) * end.wire_diameter / max(
        r1, end.wire_diameter
    )  # r1 is checked below
    return math.pi + math.asin(max(0.0, min(0.95, reach)))


END = extended.style(
    "extended-eye",
    "extended eye",
    "A long leg beside the axis carries a small eye that holds its pin captive.",
    _past,
    sketch_in(__doc__),
)
