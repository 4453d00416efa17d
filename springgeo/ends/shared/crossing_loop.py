r"""Loops that cross the body's end, rise on the far side and turn over the centre.

```
      .-'''-.           loop r1, centred on the axis
     /       \
    |         '
    |                   leg
     \_______           rise rb, crossing line at the slope asked, bend r2
   ===========+
```
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from springgeo.curve import Piece
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits
from springgeo.ends.shared.axial_plane import AxialPlane
from springgeo.ends.shared.plan_bend import LARGEST, plan_bend
from springgeo.ends.shared.tip import straight_on
from springgeo.errors import refused
from springgeo.text import quantity as q
from springgeo.text.shown import said


@dataclass(frozen=True)
class Crossing:
    """The wire from the coil to the foot of the leg: mm; the leg stands at u = ``across``."""

    pieces: tuple[Piece, ...]
    plane: AxialPlane
    across: float
    height: float
    rise: float


def bend_radius(value: float | None, end: BodyEnd) -> float:
    """Return r2 of a bend that must turn onto the axis within the coil."""
    return limits.bend_radius(
        value,
        min(2 * end.wire_diameter, 0.4 * end.coil_radius),
        end.wire_diameter,
        LARGEST * end.coil_radius,
        "0.45 of the coil's radius, beyond which it does not reach the axis",
    )


def loop_and_rise(
    loop: float | None, rise: float | None, defaults: tuple[float, float], end: BodyEnd
) -> tuple[float, float]:
    """Return r1 and rb, mm: as given, or r1 in coil radii and rb in r1 by ``defaults``."""
    d = end.wire_diameter
    r1 = limits.between(
        "loop_radius",
        max(1.5 * d, defaults[0] * end.coil_radius) if loop is None else loop,
        1.5 * d,
        end.coil_radius,
        "from 1.5 wire diameters to the coil's radius",
        "choose a radius within it",
    )
    rb = limits.between(
        "rise_radius",
        max(d, defaults[1] * r1) if rise is None else rise,
        d,
        r1,
        "from one wire diameter to loop_radius",
        "choose a radius within it",
    )
    return r1, rb


def crossing(end: BodyEnd, r2: float, rise: float, across: float, slope: float) -> Crossing:
    """Return bend, line and rise to a vertical tangent at ``across`` mm beyond the axis."""
    arc, q, azimuth = plan_bend(end, r2, slope)
    start = (-math.hypot(q[0], q[1]), float(q[2]))
    c, s = math.cos(slope), math.sin(slope)
    run = (across - rise - start[0] + rise * s) / c
    corner = (start[0] + run * c, start[1] + run * s)
    centre = (corner[0] - rise * s, corner[1] + rise * c)
    plane = AxialPlane(azimuth)
    up = plane.arc(centre, rise, slope - math.pi / 2, math.pi / 2 - slope)
    pieces = (
        Piece(arc, "bend", "bend"),
        Piece(plane.line(start, corner), "crossing", "straight"),
        Piece(up, "rise", "straight"),
    )
    return Crossing(pieces, plane, across, centre[1], rise)


def loop_over(
    end: BodyEnd,
    foot: Crossing,
    r1: float,
    r2: float,
    height: float,
    past: float,
    tail: float,
    opening: float,
) -> EndShape:
    """Return the whole end: leg up to ``height`` mm, loop ``past`` rad beyond its apex, tail."""
    pieces = [*foot.pieces, *leg(foot, height, end.wire_diameter)]
    contact = sum(p.segment.length for p in pieces) + r1 * math.pi / 2
    loop = foot.plane.arc((0.0, height), r1, 0.0, math.pi / 2 + past)
    pieces.append(Piece(loop, "loop", "loop"))
    pieces += straight_on(loop, tail, end.wire_diameter)
    return EndShape(
        tuple(pieces),
        height + r1 - end.wire_diameter,
        foot.plane.azimuth,
        contact,
        r1,
        r2,
        opening,
        built={"rise_radius": foot.rise},
    )


def leg(foot: Crossing, height: float, wire_diameter: float) -> list[Piece]:
    """Return the straight leg above the rise, or nothing; raises SpecError if it points down."""
    rise = height - foot.height
    if rise < -1e-9 * wire_diameter:
        raise refused(
            "hook-too-short",
            "hook_length",
            said(
                "is {less} too short for this bend, rise and loop; lengthen it, or reduce "
                "rise_radius",
                less=q.length(-rise, 4),
            ),
        )
    if rise <= 1e-9 * wire_diameter:
        return []
    line = foot.plane.line((foot.across, foot.height), (foot.across, height))
    return [Piece(line, "leg", "straight")]
