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

from springgeo.ends.over_centre import extended
from springgeo.ends.shared.sketch import sketch_in

# how far the hook goes past its apex: common practice
PAST = math.radians(110)


END = extended.style(
    "extended-hook",
    "extended hook (long round end)",
    "A long leg beside the axis carries a small hook: reaches a distant pin.",
    lambda _p, _end: PAST,
    sketch_in(__doc__),
)
