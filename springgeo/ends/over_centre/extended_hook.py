r"""Extended hook (long round end): a long straight leg beside the axis, a small open hook.

```
      .--.
     /    \
    |      '
    |
    |           leg
     \____
   =======+===
```
Guaranteed for index ≥ 5, d ≤ r2 ≤ 0.4 R, 0.4 R (1.5 d) ≤ r1 ≤ 0.8 R, length 1.6 D to 5 D.
"""

from __future__ import annotations

import math

from springgeo.ends.over_centre.extended import RANGES, Extended, extended
from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle, Usual
from springgeo.ends.shared.sketch import sketch_in

# how far the hook goes past its apex: common practice
PAST = math.radians(110)


def shape(p: Extended, end: BodyEnd) -> EndShape:
    """Return the wire of an extended hook."""
    return extended(p, end, PAST)


END = EndStyle(
    name="extended-hook",
    title="extended hook (long round end)",
    summary="A long leg beside the axis carries a small hook: reaches a distant pin.",
    sketch=sketch_in(__doc__),
    parameters=Extended,
    shape=shape,
    ranges=RANGES,
    usual=Usual(1.1, 12.0, "common practice of US spring makers, from memory"),
)
