"""Mate frames of a spring: where to join it."""

from __future__ import annotations

from springgeo.curve.frame import Array, vector
from springgeo.fit.seat import end_frame
from springgeo.spring.geometry import Geometry

# origin (mm), x and z directions, each (3,) float
MateFrame = tuple[Array, Array, Array]


def mate_frames(geometry: Geometry) -> dict[str, MateFrame]:
    """Return the mate frames of a spring, by name.

    ``end_a``, ``end_b``: origin at the contact (inside of the loop at its apex), z from there
    into the spring, x in the loop's plane, y along a pin; at an end without a hook, on the axis
    with x as in the spring. ``axis``: half way, z from A to B.
    """
    found: dict[str, MateFrame] = {}
    ahead = vector(1.0, 0.0, 0.0)
    for side, index, into in (("a", 0, 1.0), ("b", 1, -1.0)):
        frame = end_frame(geometry, "a" if side == "a" else "b")
        if frame is None:
            found[f"end_{side}"] = geometry.contacts[index], ahead, vector(0.0, 0.0, into)
        else:
            found[f"end_{side}"] = frame.origin, frame.axes[:, 0], frame.axes[:, 2]
    found["axis"] = vector(0.0, 0.0, geometry.length / 2), ahead, vector(0.0, 0.0, 1.0)
    return found
