r"""Loops at the side: the wire turns up in the plane that touches the coil at its end.

```
      .-'''-.           loop r1, its plane R beside the axis
     /       \
    '         |
              |         leg
   ==========-'         bend r2, in the same plane
```
The load pulls beside the body's axis: the body bends, and the arm of the pull is ``offset``.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from springgeo.curve import Piece
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits
from springgeo.ends.shared.axial_plane import AxialPlane
from springgeo.ends.shared.parameters import OpenHook
from springgeo.ends.shared.tip import straight_on


class SideLoop(OpenHook):
    """What every loop at the side has."""


# from (opening asked, height of the loop's centre, r1, d) to the angle past the apex, rad
Past = Callable[[float | None, float, float, float], tuple[float, float]]


def side_loop(p: SideLoop, end: BodyEnd, loop_radius: float, past: Past) -> EndShape:
    """Return a loop at the side of default radius ``loop_radius`` mm, closed as ``past`` says."""
    d, r = end.wire_diameter, end.coil_radius
    r1 = limits.between(
        "loop_radius",
        loop_radius if p.loop_radius is None else p.loop_radius,
        1.5 * d,
        max(1.5 * d, end.coil_radius),
        "from 1.5 wire diameters to the coil's radius",
        "choose a radius within it",
    )
    r2 = limits.bend_radius(
        p.bend_radius, r1, d, max(1.5 * d, end.coil_radius), "the radius of the coil"
    )
    height = _height(p.hook_length, end, r1, r2)
    angle, tail = past(p.opening, height, r1, d)
    plane = AxialPlane(math.pi / 2, r)
    middle, up = r2 * math.sin(end.lead), r2 * math.cos(end.lead)
    side, centre = middle - r2, (middle - r2 + r1, height)
    bend = plane.arc((middle, up), r2, -math.pi / 2 - end.lead, end.lead - math.pi / 2)
    pieces = [Piece(bend, "bend", "bend")]
    if height - up > 1e-9 * d:
        pieces.append(Piece(plane.line((side, up), (side, height)), "leg", "straight"))
    contact = sum(x.segment.length for x in pieces) + r1 * math.pi / 2
    loop = plane.arc(centre, r1, math.pi, -(math.pi / 2 + angle))
    pieces.append(Piece(loop, "loop", "loop"))
    pieces += straight_on(loop, tail, d)
    lowest = height + (r1 - math.copysign(d / 2, math.cos(angle))) * math.cos(angle) - tail
    return EndShape(
        tuple(pieces),
        height + r1 - d,
        plane.azimuth,
        contact,
        r1,
        r2,
        opening=lowest - d / 2,
        offset=math.hypot(r, centre[0]),
    )


def _height(length: float | None, end: BodyEnd, r1: float, r2: float) -> float:
    """Return the height of the loop's centre, mm: as asked, or with no leg at all."""
    least = r2 * math.cos(end.lead)
    if length is None:
        return least
    height = limits.hook_length(length, end.coil_radius) + end.wire_diameter - r1
    if height < least * (1 - 1e-9):
        raise limits.hook_too_short(length, least + r1 - end.wire_diameter)
    return max(height, least)
