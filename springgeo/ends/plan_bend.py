r"""The bend of a twisted loop: from the coil, near its plane, onto a line through the axis.

```
        .-'''-.
      .'       '.            Q   end of the bend, azimuth β
     /     <--Q  \           P   last point of the coil
     |      .'    P          the line runs from Q across the axis, rising at the slope asked
     \     (_____/
```
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

import numpy as np

from springgeo.curve import Arc
from springgeo.curve.frame import Array, vector
from springgeo.ends.limits import refuse
from springgeo.ends.protocol import BodyEnd
from springgeo.ends.root import bisect

# largest r2 / R for which the bend comes round to the axis; at 1/2 it would double back on itself
LARGEST = 0.45


def plan_bend(end: BodyEnd, bend_radius: float, slope: float) -> tuple[Arc, Array, float]:
    """Return (arc, its end point Q, azimuth β of the line).

    The arc has radius r2, leaves P along T0 and arrives along a line through the axis that
    rises at ``slope`` rad. With the end tangent Te the end point is
    ``Q = P + r2 tan(ψ/2) (T0 + Te)``, ψ the angle between T0 and Te; Q must lie on the line, one
    equation for β: ``−R sin β + r2 tan(ψ/2) cos α cos β = 0``.

    Raises
    ------
    SpecError
        If no such arc exists (r2 above about R/2).
    """
    lead = end.lead
    t0 = vector(0.0, math.cos(lead), math.sin(lead))

    def turn(beta: float) -> float:
        across = math.cos(lead) * math.sin(beta) * math.cos(slope)
        cosine = math.sin(lead) * math.sin(slope) - across
        return math.acos(max(-1.0, min(1.0, cosine)))

    def miss(beta: float) -> float:
        reach = bend_radius * math.tan(turn(beta) / 2) * math.cos(lead)
        return -end.radius * math.sin(beta) + reach * math.cos(beta)

    beta = _first_root(miss, math.radians(80))
    if beta is None:
        raise refuse(
            "bend-does-not-reach-axis",
            "bend_radius",
            f"{bend_radius:.4g} mm does not turn onto the axis within the coil; "
            "reduce it, or reduce hook_length",
        )
    flat = math.cos(slope)
    te = vector(-math.cos(beta) * flat, -math.sin(beta) * flat, math.sin(slope))
    arc = Arc.leaving(vector(end.radius, 0.0, 0.0), t0, te, bend_radius, turn(beta))
    q = vector(end.radius, 0.0, 0.0) + bend_radius * math.tan(turn(beta) / 2) * (t0 + te)
    return arc, q, beta


def _first_root(f: Callable[[float], float], high: float) -> float | None:
    grid = np.linspace(0.0, high, 81).tolist()
    for low, up in itertools.pairwise(grid):
        if f(up) <= 0:
            return bisect(f, low, up)
    return None
