"""Mate frames of a spring: where to join it."""

from __future__ import annotations

from springgeo.curve.frame import Array, vector
from springgeo.fit.seat import end_frame
from springgeo.spring.geometry import Geometry

# origin (mm), x and z directions, each (3,) float
MateFrame = tuple[Array, Array, Array]


def mate_frames(geometry: Geometry) -> dict[str, MateFrame]:
    """Return the mate frames of a spring, by name.

    ``first_end``, ``second_end``: origin at the contact (inside of the loop at its apex), z from
    there into the spring, x in the loop's plane, y along a pin; at an end without a hook, on the
    axis with x as in the spring. ``axis``: half way, z from A to B.
    """
    found: dict[str, MateFrame] = {}
    ahead = vector(1.0, 0.0, 0.0)
    for side, index, into in (("first", 0, 1.0), ("second", 1, -1.0)):
        frame = end_frame(geometry, "first" if side == "first" else "second")
        if frame is None:
            found[f"{side}_end"] = geometry.contacts[index], ahead, vector(0.0, 0.0, into)
        else:
            found[f"{side}_end"] = frame.origin, frame.axes[:, 0], frame.axes[:, 2]
    found["axis"] = vector(0.0, 0.0, geometry.height / 2), ahead, vector(0.0, 0.0, 1.0)
    return found
