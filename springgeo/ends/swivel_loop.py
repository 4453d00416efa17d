r"""A rod bent to an eye or a hook: from the axis aside, then round a circle centred on the axis.

```
       .---.
      /     \
      |  +  |     r1, centred on the axis
      \     '     tip
       )
      |           knuckle: an arc aside, tangent to the circle
```
"""

from __future__ import annotations

import math

from springgeo.curve import Path, Piece
from springgeo.ends import limits
from springgeo.ends.axial_plane import AxialPlane
from springgeo.ends.coned import Beyond, Cone
from springgeo.ends.protocol import BodyEnd

# radius of the knuckle, and the gap that an eye leaves to its neck, in rod radii
KNUCKLE, GAP = 1.6, 0.2
# least inside diameter of a loop, in rod diameters
LEAST = 1.6


def loop_diameter(field: str, value: float | None, shank: float, end: BodyEnd) -> float:
    """Return the inside diameter of a swivel's eye or hook, mm, or raise SpecError."""
    least = LEAST * shank
    usual = max(least, 1.2 * end.made_on - shank)
    return limits.between(
        field,
        usual if value is None else value,
        least,
        max(least, 4 * end.made_on),
        f"from {LEAST:g} times the shank to twice the body's mean diameter",
        "choose a diameter within it",
    )


def eye(inside: float, c: Cone) -> Beyond:
    """Return a rod bent to an eye: closed but for a small gap at its neck."""
    rod = c.shank / 2
    past = math.asin((2 + GAP) * rod / (inside / 2 + rod))
    return _loop(inside, c, 1.5 * math.pi - past)


def hook(inside: float, c: Cone) -> Beyond:
    """Return a rod bent to a hook: its tip 20° below the middle of the loop."""
    return _loop(inside, c, math.pi + math.radians(20))


def _loop(inside: float, c: Cone, sweep: float) -> Beyond:
    """Return the rod; ``sweep`` rad counts from the side where the rod comes up."""
    rod = c.shank / 2
    r1, rb, plane = inside / 2 + rod, KNUCKLE * rod, AxialPlane(math.pi)
    up = math.sqrt(r1**2 + 2 * r1 * rb)
    lean = math.atan2(up, rb)
    knuckle = plane.arc((-rb, c.top), rb, 0.0, lean)
    loop = plane.arc((0.0, c.top + up), r1, math.pi + lean, -(sweep + lean))
    path = Path([Piece(knuckle, "knuckle", "straight"), Piece(loop, "loop", "loop")])
    return path, up + inside / 2, c.shank
