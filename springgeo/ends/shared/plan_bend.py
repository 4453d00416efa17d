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

import math
from typing import NamedTuple

from springgeo.curve import Arc
from springgeo.curve.frame import Array, vector
from springgeo.ends.protocol import BodyEnd
from springgeo.errors import refused
from springgeo.text import quantity as q
from springgeo.text.shown import said

# largest r2 / R for which the bend comes round to the axis; at 1/2 it would double back on itself
LARGEST = 0.45
_FURTHEST = math.sin(math.radians(80))


class Landing(NamedTuple):
    """Where the bend meets its line: Q in mm, azimuth β and turn ψ in rad."""

    out: float
    up: float
    azimuth: float
    turn: float


def plan_bend(end: BodyEnd, bend_radius: float, slope: float) -> tuple[Arc, Array, float]:
    """Return (arc, its end point Q, azimuth β of the line).

    The arc has radius r2, leaves P along T0 and arrives along a line through the axis that
    rises at ``slope`` rad.

    Raises
    ------
    SpecError
        If no such arc exists (r2 above about R/2).
    """
    found = landing(end, bend_radius, slope)
    lead, beta, flat = end.lead, found.azimuth, math.cos(slope)
    t0 = vector(0.0, math.cos(lead), math.sin(lead))
    te = vector(-math.cos(beta) * flat, -math.sin(beta) * flat, math.sin(slope))
    arc = Arc.leaving(vector(end.coil_radius, 0.0, 0.0), t0, te, bend_radius, found.turn)
    q = vector(found.out * math.cos(beta), found.out * math.sin(beta), found.up)
    return arc, q, beta


def landing(end: BodyEnd, bend_radius: float, slope: float) -> Landing:
    """Return where the bend ends, in closed form but for one root of a cubic.

    With the end tangent Te the end point is ``Q = P + r2 tan(ψ/2) (T0 + Te)``, ψ the angle
    between T0 and Te, ``cos ψ = A − B sin β`` with A = sin α sin σ, B = cos α cos σ. Q must lie
    on the line: ``R sin β = r2 tan(ψ/2) cos α cos β``. Squared, with S = sin β and
    k = (r2 cos α)², that is ``R² S² (1 + A − B S) = k (1 − S²) (1 − A + B S)``.
    """
    lead, r = end.lead, end.coil_radius
    a = math.sin(lead) * math.sin(slope)
    b = math.cos(lead) * math.cos(slope)
    share2 = (bend_radius * math.cos(lead) / r) ** 2
    s = _first_root(a, b, share2)
    if s is None:
        raise refused(
            "bend-does-not-reach-axis",
            "bend_radius",
            said(
                "{bend_radius} does not turn onto the axis within the coil; reduce it, or "
                "reduce hook_length",
                bend_radius=q.length(bend_radius, 4),
            ),
        )
    cosine = a - b * s
    reach = bend_radius * math.sqrt((1 - cosine) / (1 + cosine))
    out = r / math.sqrt(1 - s * s) - reach * math.cos(slope)
    up = reach * (math.sin(lead) + math.sin(slope))
    return Landing(out, up, math.asin(s), math.acos(cosine))


def _first_root(a: float, b: float, share2: float) -> float | None:
    """Return sin β, up to sin 80°, or None: ``share2`` is (r2 cos α / R)².

    The cubic is negative at 0, and its first root is the only one above 0 at which it rises.
    Newton's method from the inflection runs onto it from one side.
    """
    c3, c2, c1, c0 = b * (share2 - 1), 1 + a + share2 * (1 - a), -share2 * b, -share2 * (1 - a)
    if c3 >= 0:
        return None
    s = -c2 / (3 * c3)
    for _ in range(60):
        rise = (3 * c3 * s + 2 * c2) * s + c1
        if rise <= 0:
            return None
        step = (((c3 * s + c2) * s + c1) * s + c0) / rise
        s -= step
        if abs(step) < 4e-16:
            break
    return s if 0 < s <= _FURTHEST else None
