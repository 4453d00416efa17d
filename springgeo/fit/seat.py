"""Where a mating part sits in a hook: the end's own frame, and the part placed in it.

Frame of an end: origin at the contact point (inside of the loop at its apex), z from there toward
the body and across the wire, x in the loop's plane toward the side the wire comes from, y across
the loop.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array, Frame, unit, vector
from springgeo.errors import refused
from springgeo.fit.held_hook import hook_of
from springgeo.fit.obstacles import Cylinder, HolePlate, Moved, Obstacle, Union
from springgeo.specification.end_names import Side
from springgeo.specification.mating import EndMate, Pin, Plate, Stud
from springgeo.spring.geometry import Geometry

Mate = Pin | Plate | Stud
# the rise of a wire's tangent that is rounding
_LEVEL = 1e-9


@dataclass(frozen=True, eq=False, kw_only=True)
class EndFrame(Frame):
    """An end's frame in the frame of the spring.

    Attributes
    ----------
    s : float, mm
        Arc length of the contact on the path.
    wire, inside : float, mm
        Wire diameter; radius of the loop's inside at the contact (inf where it is straight).
    """

    s: float
    wire: float
    inside: float


def end_frame(geometry: Geometry, side: Side) -> EndFrame | None:
    """Return the frame of an end, or None for an end without a hook.

    At a swivel with an eye or a hook it is the frame of that loop.
    """
    index, geometry = 0 if side == "first" else 1, hook_of(geometry, side)
    s = geometry.contact_s[index]
    if s is None:
        return None
    sense = 1.0 if side == "first" else -1.0
    point, tangent, curvature = geometry.path.traced(np.array([s]), "point", "tangent", "curvature")
    inward = vector(0.0, 0.0, sense)
    along = sense * tangent[0]
    # a loaded loop leans: what it hangs on touches it across its own wire
    leans = abs(float(along[2])) > _LEVEL
    x = unit(along if leans else vector(float(along[0]), float(along[1]), 0.0))
    z = unit(inward - x * float(inward @ x)) if leans else inward
    bend = float(np.linalg.norm(curvature[0]))
    inside = 1 / bend - geometry.wire_diameter / 2 if bend > 1e-9 else math.inf
    axes = np.column_stack([x, np.cross(z, x), z])
    origin = point[0] + geometry.wire_diameter / 2 * z
    return EndFrame(origin, axes, s=s, wire=geometry.wire_diameter, inside=inside)


@dataclass(frozen=True, eq=False)
class Attached:
    """An obstacle that goes with an end of the spring: it is given in that end's frame."""

    obstacle: Obstacle
    side: Side

    def on(self, geometry: Geometry) -> Obstacle:
        """Return the obstacle in the spring's frame; raises SpecError at an end without hook."""
        frame = end_frame(geometry, self.side)
        if frame is None:
            raise refused(
                "no-hook",
                f"solids ({self.side})",
                "this end has no hook, so it has no frame; give the solid in the "
                "spring's frame, without Attached",
            )
        return Moved(self.obstacle, frame)


def pin_direction(part: Mate) -> Array:
    """Return the unit direction ``(3,)`` of a part's axis in the end's frame.

    A plate's is the axis of its hole: along the wire.
    """
    if isinstance(part, Plate):
        return vector(1.0, 0.0, 0.0)
    if isinstance(part, Pin) and not isinstance(part.direction, str):
        return unit(np.array(part.direction))
    return vector(0.0, 1.0, 0.0)


def laid(mate: EndMate) -> Mate | None:
    """Return a mating part as an end lies on it: one that its pin holds has turned to it."""
    part = mate.part
    if not isinstance(part, Pin) or mate.holding in (None, "free"):
        return part
    x, y, z = pin_direction(part).tolist()
    seen = {"kept": (0.0, math.hypot(x, y), z), "swivelling": (x, y, 0.0), "held": (0.0, 1.0, 0.0)}
    return part.model_copy(update={"direction": seen[str(mate.holding)]})


def seat_radius(part: Mate) -> float:
    """Return the radius the wire's inside rests on, mm."""
    return (
        part.groove_diameter
        if isinstance(part, Stud)
        else part.hole_diameter
        if isinstance(part, Plate)
        else part.diameter
    ) / 2


def seated(frame: EndFrame, part: Mate, tilt: float = 0.0) -> Obstacle:
    """Return the part where the pull holds it: touching the inside of the loop at the apex.

    Parameters
    ----------
    frame : EndFrame
    part : Pin, Plate or Stud
    tilt : float, rad
        Extra turn of a pin or stud about x, its contact rolling round the wire.
    """
    if isinstance(part, Plate):
        lift = edge_lift(frame.inside, part.thickness / 2)
        middle = vector(0.0, 0.0, lift - part.hole_diameter / 2)
        return HolePlate(
            frame.origin + frame.turn(middle),
            frame.axes,
            part.hole_diameter / 2,
            part.thickness,
            part.edge_distance,
        )
    direction = _tilted(pin_direction(part), tilt)
    centre = frame.origin + frame.turn(seat_centre(frame.wire, seat_radius(part), direction))
    axis = frame.turn(direction)
    if isinstance(part, Pin):
        return Cylinder(centre, axis, part.diameter / 2, part.length)
    shoulder = (part.length - part.groove_width) / 2
    away = (part.groove_width + shoulder) / 2 * axis
    return Union(
        (
            Cylinder(centre, axis, part.groove_diameter / 2, part.length),
            *(Cylinder(centre + k * away, axis, part.diameter / 2, shoulder) for k in (-1, 1)),
        )
    )


def seat_centre(wire: float, radius: float, direction: Array) -> Array:
    """Return the middle ``(..., 3)`` of a seated pin in the end's frame, mm.

    The pin, along the unit ``direction`` ``(..., 3)``, touches the wire's round section where
    that section's normal is across the pin and as near the pull as can be.
    """
    normal = unit(vector(0.0, 0.0, 1.0) - direction * direction[..., 2:])
    centre: Array = vector(0.0, 0.0, -wire / 2) + (wire / 2 + radius) * normal
    return centre


def pin_middle(geometry: Geometry, side: Side, diameter: float) -> Array:
    """Return the middle ``(3,) mm`` of a pin along y in the spring's frame; 0 mm: the contact.

    At an end without a hook, the point of pull.
    """
    frame = end_frame(geometry, side)
    if frame is None:
        return geometry.contacts[0 if side == "first" else 1]
    across = vector(0.0, 1.0, 0.0)
    middle: Array = frame.origin + frame.turn(seat_centre(frame.wire, diameter / 2, across))
    return middle


def edge_lift(inside: float, half: float) -> float:
    """Return how far a plate's edges, ``half`` mm from its middle, hold the loop's apex off."""
    if half >= inside:
        return inside
    return 0.0 if math.isinf(inside) else inside - math.sqrt(inside**2 - half**2)


def _tilted(direction: Array, tilt: float) -> Array:
    c, s = math.cos(tilt), math.sin(tilt)
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]]) @ direction
