"""How far a hook may rock on its pin before anything but the loop's seat touches.

Both angles come from stations on the wire and are true to about half a degree.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.fit.obstacles import extruded
from springgeo.fit.seat import EndFrame, Part, Side, pin_direction, seat_centre, seat_radius
from springgeo.fit.wire import Wire
from springgeo.spec.mating import Pin, Plate, Stud
from springgeo.spring.geometry import Geometry

_COARSE = np.radians(np.arange(0.0, 91.0, 10.0))
_FINE = np.linspace(0.0, 1.0, 21)


@dataclass(frozen=True)
class Swing:
    """Angles from the seat, rad, at most 90 deg each way; None where it does not apply.

    ``in_plane``: the pin runs round the inside of the loop, toward −x and +x. ``across``: the
    pin tilts out of its seat about x.
    """

    in_plane: tuple[float, float] | None
    across: tuple[float, float] | None


def swing(geometry: Geometry, frame: EndFrame, wire: Wire, side: Side, part: Part) -> Swing:
    """Return how far the hook may rock on a pin or stud (a plate holds it: no swing).

    ``wire`` holds the pieces of the end.
    """
    if isinstance(part, Plate) or seat_radius(part) > frame.inside:
        return Swing(None, None)
    local = _points(geometry, frame, wire, side)
    allowed = -2e-3 * geometry.diameter  # what stations miss of a true contact

    def tilts(angle: Array) -> Array:
        return _tilted_gap(frame, part, local, angle)

    def rounds(angle: Array) -> Array:
        return _round_gap(frame, part, local, angle)

    across = _limits(tilts, allowed)
    if abs(pin_direction(part)[1]) < 1 - 1e-9 or math.isinf(frame.inside):
        return Swing(None, across)
    return Swing(_limits(rounds, allowed), across)


def _points(geometry: Geometry, frame: EndFrame, wire: Wire, side: Side) -> Array:
    """Return points of the end and its first coil and a half in the end's frame, ``(n, 3)``."""
    path = geometry.path
    fine = np.linspace(wire.s.min(), wire.s.max(), 100)
    coil = np.linspace(0.0, min(1.5, geometry.turns) * 2 * math.pi * geometry.radius, 60)
    body = wire.s.max() + coil if side == "a" else wire.s.min() - coil
    return frame.local(path.point(np.concatenate([fine, body])))


def _tilted_gap(frame: EndFrame, part: Part, local: Array, angle: Array) -> Array:
    """Return the clearance ``(m,)`` at each tilt ``(m,)`` about x."""
    c, s = np.cos(angle), np.sin(angle)
    x, y, z = pin_direction(part)
    axis = np.column_stack([np.full_like(c, x), c * y - s * z, s * y + c * z])
    centre = seat_centre(frame.wire, seat_radius(part), axis)
    gap = _gap(local, centre, axis, seat_radius(part), _length(part))
    if isinstance(part, Stud):
        shoulder = (part.length - part.groove_width) / 2
        for k in (-1, 1):
            middle = centre + k * (part.groove_width + shoulder) / 2 * axis
            gap = np.minimum(gap, _gap(local, middle, axis, part.diameter / 2, shoulder))
    return gap - frame.wire / 2


def _round_gap(frame: EndFrame, part: Part, local: Array, angle: Array) -> Array:
    """Return the clearance ``(m,)`` with the pin at each angle round the inside of the loop."""
    radius = seat_radius(part)
    across = np.array([0.0, 1.0, 0.0])
    rest = frame.inside - radius
    move = rest * np.column_stack([np.sin(angle), np.zeros_like(angle), 1 - np.cos(angle)])
    centre = seat_centre(frame.wire, radius, across) + move
    axis = np.broadcast_to(across, centre.shape)
    return _gap(local, centre, axis, radius, _length(part)) - frame.wire / 2


def _length(part: Part) -> float:
    return part.length if isinstance(part, Pin | Stud) else math.inf


def _gap(point: Array, centre: Array, axis: Array, radius: float, length: float) -> Array:
    """Return the least distance ``(m,)`` of points ``(n, 3)`` from each of m cylinders."""
    along = axis @ point.T - np.sum(axis * centre, axis=1)[:, None]
    apart = np.sum(point**2, axis=1) - 2 * centre @ point.T + np.sum(centre**2, axis=1)[:, None]
    out = np.sqrt(np.maximum(0.0, apart - along**2))
    result: Array = extruded(out - radius, np.abs(along) - length / 2).min(axis=1)
    return result


def _limits(gap: Callable[[Array], Array], allowed: float) -> tuple[float, float]:
    """Return the angles to either side at which the clearance first falls below ``allowed``."""
    clear = (gap(np.concatenate([-_COARSE, _COARSE])) >= allowed).reshape(2, -1)
    last = np.cumprod(clear, axis=1).sum(axis=1) - 1  # of the coarse angles; -1: not even the seat
    inside = np.clip(last, 0, len(_COARSE) - 2)
    step = _COARSE[1] * _FINE
    fine = _COARSE[inside][:, None] + step
    clear = (gap(np.concatenate([-fine[0], fine[1]])) >= allowed).reshape(2, -1)
    count = np.cumprod(clear, axis=1).sum(axis=1) - 1
    low, high = (float(fine[i, max(0, count[i])]) for i in (0, 1))
    return low, high
