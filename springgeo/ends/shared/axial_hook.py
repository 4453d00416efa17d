r"""Hooks bent straight up from the coil: bend on the coil's cylinder, leg, loop arc.

```
        .---.          loop r1, centred on the axis at height h
       /     \
      |       \        leg, leaning in by γ when r1 < R
      '        |
   ============+       bend r2, on the coil's cylinder
```
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from springgeo.curve import CylinderBend, Piece, Segment
from springgeo.curve.root import bisect
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared.axial_plane import AxialPlane
from springgeo.ends.shared.limits import hook_too_short
from springgeo.ends.shared.tip import straight_on

# how far a leg may lean in, rad: beyond it the loop sits on the body
STEEPEST = 1.2


@dataclass(frozen=True)
class Leg:
    """The straight leg and the knuckle below it: lean γ rad, points in (u, z), length mm."""

    lean: float
    knuckle: float
    foot: tuple[float, float]
    length: float


def leg_for(end: BodyEnd, bend_radius: float, loop_radius: float, height: float) -> Leg:
    """Return the leg from the top of the bend, tangent to the loop centred at ``height`` mm.

    With A = R − r2, H = h − r2 cos α and K = r1 − r2 the lean solves
    ``A cos γ − H sin γ = K`` (zero for r1 = R).
    """
    top = bend_radius * math.cos(end.lead)
    across, up, rest = end.coil_radius - bend_radius, height - top, loop_radius - bend_radius
    lean = 0.0
    if loop_radius < end.coil_radius * (1 - 1e-12):
        span = math.hypot(across, up)
        lean = math.acos(max(-1.0, min(1.0, rest / span))) - math.atan2(up, across)
    foot = (across + bend_radius * math.cos(lean), top + bend_radius * math.sin(lean))
    touch = (loop_radius * math.cos(lean), height + loop_radius * math.sin(lean))
    length = -(touch[0] - foot[0]) * math.sin(lean) + (touch[1] - foot[1]) * math.cos(lean)
    return Leg(lean, bend_radius, (-foot[0], foot[1]), length)


def least_height(end: BodyEnd, bend_radius: float, loop_radius: float) -> float:
    """Return the least height h, mm, at which the leg's length is not negative."""
    low = bend_radius * math.cos(end.lead)
    if loop_radius >= end.coil_radius * (1 - 1e-12):
        return low

    def short(height: float) -> float:
        leg = leg_for(end, bend_radius, loop_radius, height)
        return 1.0 if leg.length < 0 or leg.lean > STEEPEST else -1.0

    return bisect(short, low, low + 4 * end.coil_radius)


def reachable_height(end: BodyEnd, bend_radius: float, loop_radius: float, height: float) -> float:
    """Return ``height`` mm of the loop's centre, or raise SpecError where the leg cannot reach."""
    leg = leg_for(end, bend_radius, loop_radius, height)
    above = height >= bend_radius * math.cos(end.lead)
    if above and leg.length >= 0 and leg.lean <= STEEPEST:
        return height  # without asking how much lower it could go
    least = least_height(end, bend_radius, loop_radius)
    if height < least * (1 - 1e-9):
        beyond = loop_radius - end.wire_diameter
        raise hook_too_short(height + beyond, least + beyond)
    return max(height, least)


def axial_hook(
    end: BodyEnd,
    bend_radius: float,
    loop_radius: float,
    height: float,
    past: float,
    tail: float,
    opening: float,
) -> EndShape:
    """Return the hook: ``past`` rad beyond the apex, then straight on for ``tail`` mm."""
    height = reachable_height(end, bend_radius, loop_radius, height)
    bend = CylinderBend(
        radius=end.coil_radius, bend_radius=bend_radius, start=end.lead, end=math.pi / 2
    )
    plane = AxialPlane(bend.swept_azimuth)
    leg = leg_for(end, bend_radius, loop_radius, height)
    pieces = [Piece(bend, "bend", "bend"), *_leg_pieces(plane, end, leg, height, loop_radius)]
    before_apex = math.pi / 2 - leg.lean
    loop = plane.arc((0.0, height), loop_radius, math.pi - leg.lean, -(before_apex + past))
    contact = sum(p.segment.length for p in pieces) + loop_radius * before_apex
    pieces.append(Piece(loop, "loop", "loop"))
    pieces += straight_on(loop, tail, end.wire_diameter)
    return EndShape(
        tuple(pieces),
        height + loop_radius - end.wire_diameter,
        plane.azimuth,
        contact,
        loop_radius,
        bend_radius,
        opening,
    )


def _leg_pieces(
    plane: AxialPlane, end: BodyEnd, leg: Leg, height: float, loop_radius: float
) -> list[Piece]:
    pieces = []
    top = leg.knuckle * math.cos(end.lead)
    if leg.lean > 1e-9:
        knuckle: Segment = plane.arc(
            (-(end.coil_radius - leg.knuckle), top), leg.knuckle, math.pi, -leg.lean
        )
        pieces.append(Piece(knuckle, "knuckle", "bend"))
    if leg.length > 1e-9 * end.wire_diameter:
        touch = (-loop_radius * math.cos(leg.lean), height + loop_radius * math.sin(leg.lean))
        pieces.append(Piece(plane.line(leg.foot, touch), "leg", "straight"))
    return pieces
