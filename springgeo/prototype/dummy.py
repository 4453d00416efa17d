"""A rigid dummy: the body as a smooth tube, the hooks' wire starting inside its wall.

The parts are closed shells of their own that overlap; in the file they are one mesh, and slicers
take what is inside any of them. No boolean on meshes is made, so none can fail.
"""

from __future__ import annotations

import numpy as np

from springgeo.files.publish.detail import hook_paths
from springgeo.mesh import Mesh, corners, tube_mesh
from springgeo.spring.geometry import Geometry

# how much thicker than the wire the wall is on each side, in wire diameters: a hook's round end
# lies inside the wall instead of touching its two faces
COVER = 0.05


def dummy_parts(geometry: Geometry, chord: float) -> list[tuple[str, Mesh]]:
    """Return named closed meshes in the spring's frame: body, and a hook per end that has one."""
    names = [
        f"{side} hook"
        for side, s in (("first", geometry.first), ("second", geometry.second))
        if s.pieces
    ]
    radius = geometry.wire_diameter / 2
    hooks = [tube_mesh(path, radius, chord) for path in hook_paths(geometry)]
    return [("body", tube_body(geometry, chord)), *zip(names, hooks, strict=True)]


def tube_body(geometry: Geometry, chord: float) -> Mesh:
    """Return the hollow cylinder in place of the coils."""
    half = (0.5 + COVER) * geometry.wire_diameter
    low, high = geometry.body_faces
    inner, outer = geometry.coil_radius - half, geometry.coil_radius + half
    ring = [(outer, low), (outer, high), (inner, high), (inner, low)]
    return ring_mesh(ring, corners(outer, chord))


def ring_mesh(profile: list[tuple[float, float]], around: int) -> Mesh:
    """Return a closed profile of (radius, z), counter-clockwise seen with r to the right."""
    angle = 2 * np.pi * np.arange(around) / around
    circle = np.column_stack([np.cos(angle), np.sin(angle)])
    rings = [np.column_stack([r * circle, np.full(around, z)]) for r, z in profile]
    k, after = np.arange(around), np.roll(np.arange(around), -1)
    faces = []
    for i in range(len(profile)):
        low, high = i * around, (i + 1) % len(profile) * around
        a, b, c, d = low + k, low + after, high + k, high + after
        faces += [np.column_stack([a, b, d]), np.column_stack([a, d, c])]
    return Mesh(np.concatenate(rings), np.concatenate(faces).astype(np.int32))
