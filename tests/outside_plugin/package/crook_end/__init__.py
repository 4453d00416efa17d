r"""Crook: a made-up end of our own, a hook whose loop goes three quarters round.

```
     .--.
    /    \
    \__   |
          |
   =======+
```
"""

from __future__ import annotations

import dataclasses
import math

from springgeo.ends.protocol import BodyEnd, EndParameters, EndShape, EndStyle
from springgeo.ends.shared.axial_hook import axial_hook
from springgeo.ends.shared.tip import opening_at
from springgeo.specification.quantity import Length


class Crook(EndParameters):
    """``reach``: from the body's end face to the inside of the loop, mm (1.6 D)."""

    reach: Length | None = None


def shape(p: Crook, end: BodyEnd) -> EndShape:
    """Return the wire of a crook."""
    d, r = end.wire_diameter, end.coil_radius
    r1, past = 0.8 * r, math.radians(140)
    height = (3.2 * r if p.reach is None else p.reach) + d - r1
    return axial_hook(end, max(d, r / 2), r1, height, past, 0.0, opening_at(past, height, r1, d))


END = EndStyle(
    name="crook",
    title="crook",
    summary="A made-up end from outside the package.",
    sketch="   .--.\n  /    \\\n  \\__   |\n        |\n =======+",
    parameters=Crook,
    shape=shape,
    ranges=lambda end: {"reach": (3 * end.coil_radius, 5 * end.coil_radius)},
)
NOT_A_STYLE = "a string"
PRETENDER = dataclasses.replace(END, name="plain")
