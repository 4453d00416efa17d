"""Mate frames of a spring: where to join it, as CadQuery locations."""

from __future__ import annotations

from cadquery import Face, Location, Plane

from springgeo.cad.solids import state_of, vector_of
from springgeo.computed import ComputedSpring
from springgeo.fit.frames import mate_frames
from springgeo.state import State


def frames(spring: ComputedSpring | State) -> dict[str, Location]:
    """Return the mate frames of a spring.

    ``first_end``, ``second_end``: origin at the contact (inside of the loop at its apex), z from
    there into the spring, x in the loop's plane, y along a pin; at an end without a hook, on the
    axis with x as in the spring. ``axis``: half way, z from A to B.
    """
    return {
        name: Location(Plane(vector_of(origin), xDir=vector_of(x), normal=vector_of(z)))
        for name, (origin, x, z) in mate_frames(state_of(spring).geometry).items()
    }


def frame_face(location: Location, size: float) -> Face:
    """Return a small square in the xy plane of a frame: what ``constrain`` can take hold of."""
    return Face.makePlane(size, size).located(location)
