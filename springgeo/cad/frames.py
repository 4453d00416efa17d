"""Mate frames of a spring: where to join it, as CadQuery locations."""

from __future__ import annotations

from cadquery import Face, Location, Plane, Vector

from springgeo.api import Spring
from springgeo.cad.solids import state_of, vector_of
from springgeo.fit.seat import end_frame
from springgeo.state import State


def frames(spring: Spring | State) -> dict[str, Location]:
    """Return the mate frames of a spring.

    ``end_a``, ``end_b``: origin at the contact (inside of the loop at its apex), z from there
    into the spring, x in the loop's plane, y along a pin; at an end without a hook, on the axis
    with x as in the spring. ``axis``: half way, z from A to B.
    """
    geometry = state_of(spring).geometry
    middle = Plane(Vector(0, 0, geometry.length / 2), xDir=Vector(1, 0, 0), normal=Vector(0, 0, 1))
    found = {"axis": Location(middle)}
    for side, index, into in (("a", 0, 1.0), ("b", 1, -1.0)):
        frame = end_frame(geometry, "a" if side == "a" else "b")
        if frame is None:
            origin, x, z = vector_of(geometry.contacts[index]), Vector(1, 0, 0), Vector(0, 0, into)
        else:
            origin = vector_of(frame.origin)
            x, z = vector_of(frame.axes[:, 0]), vector_of(frame.axes[:, 2])
        found[f"end_{side}"] = Location(Plane(origin, xDir=x, normal=z))
    return found


def frame_face(location: Location, size: float) -> Face:
    """Return a small square in the xy plane of a frame: what ``constrain`` can take hold of."""
    return Face.makePlane(size, size).located(location)
