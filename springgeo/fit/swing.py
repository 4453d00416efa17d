"""How far a hook may rock on its pin before anything but the loop touches.

Both angles come from stations on the wire and are true to about half a degree.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.fit.obstacles import Cylinder
from springgeo.fit.seat import EndFrame, Part, Side, pin_direction, seat_centre, seat_radius, seated
from springgeo.fit.wire import Wire
from springgeo.spec.mating import Pin, Plate
from springgeo.spring.geometry import Geometry

_GRID = np.radians(np.arange(0.0, 91.0, 3.0))


@dataclass(frozen=True)
class Swing:
    """Angles from the seat, rad, at most 90 deg each way; None where it does not apply.

    ``in_plane``: the pin runs round the inside of the loop, toward −x and +x. ``across``: the
    pin tilts out of its seat about x.
    """

    in_plane: tuple[float, float] | None
    across: tuple[float, float] | None


def swing(geometry: Geometry, frame: EndFrame, side: Side, part: Part) -> Swing:
    """Return how far the hook may rock on a pin or stud (a plate holds it: no swing)."""
    if isinstance(part, Plate) or seat_radius(part) > frame.inside:
        return Swing(None, None)
    local = near_points(geometry, frame, side)
    across = (_last(_tilts(geometry, frame, part, local, -1)),
              _last(_tilts(geometry, frame, part, local, 1)))
    if abs(pin_direction(part)[1]) < 1 - 1e-9 or math.isinf(frame.inside):
        return Swing(None, across)
    return Swing((_last(_rounds(frame, part, local, -1)), _last(_rounds(frame, part, local, 1))),
                 across)


def near_points(geometry: Geometry, frame: EndFrame, side: Side) -> Array:
    """Return points of the end's wire and its first two coils in the end's frame, ``(n, 3)``."""
    prefix = f"{side}."
    wire = Wire.of(geometry.path, geometry.diameter, lambda p: p.label.startswith(prefix))
    turns = min(2.0, geometry.turns) * geometry.path.length / geometry.turns
    body = np.linspace(0.0, min(turns, 4 * np.pi * geometry.radius), 120)
    edge = float(wire.s.max()) if side == "a" else float(wire.s.min())
    s = edge + body if side == "a" else edge - body
    fine = np.linspace(wire.s.min(), wire.s.max(), 160)
    return frame.local(np.concatenate([geometry.path.point(fine), geometry.path.point(s)]))


def _tilts(geometry: Geometry, frame: EndFrame, part: Part, local: Array, sign: int) -> Array:
    world = frame.origin + frame.world(local)
    return np.array([
        float(seated(frame, part, sign * tilt).distance(world).min()) - geometry.diameter / 2
        for tilt in _GRID
    ])


def _rounds(frame: EndFrame, part: Part, local: Array, sign: int) -> Array:
    """Return the clearance with the pin at each angle round the inside of the loop."""
    radius = seat_radius(part)
    length = part.length if isinstance(part, Pin) else part.groove_width
    rest = frame.inside - radius
    first = seat_centre(frame.wire, radius, np.array([0.0, 1.0, 0.0]))
    out = []
    for angle in sign * _GRID:
        move = rest * np.array([math.sin(angle), 0.0, 1 - math.cos(angle)])
        pin = Cylinder(first + move, np.array([0.0, 1.0, 0.0]), radius, length)
        out.append(float(pin.distance(local).min()) - frame.wire / 2)
    return np.array(out)


def _last(gap: Array) -> float:
    """Return the angle at which the clearance first falls below zero, by interpolation."""
    bad = np.flatnonzero(gap < -1e-3 * max(1.0, float(np.abs(gap).max())) )
    if not len(bad):
        return float(_GRID[-1])
    i = int(bad[0])
    if i == 0:
        return 0.0
    share = max(0.0, gap[i - 1]) / (max(0.0, gap[i - 1]) - gap[i])
    return float(_GRID[i - 1] + share * (_GRID[i] - _GRID[i - 1]))
