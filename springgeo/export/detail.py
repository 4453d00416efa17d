"""Levels of detail of a mesh: exact, light, or only the space the spring takes up."""

from __future__ import annotations

import math
from typing import Literal, get_args

import numpy as np

from springgeo.curve import Path
from springgeo.mesh import Mesh, tube_mesh
from springgeo.spring.geometry import Geometry

Detail = Literal["exact", "light", "envelope"]
DETAILS: tuple[Detail, ...] = get_args(Detail)
# greatest distance between mesh and true surface, in wire diameters
CHORD = {"exact": 0.01, "light": 0.05, "envelope": 0.05}


def chord_of(geometry: Geometry, detail: Detail) -> float:
    """Return the chord error of a level of detail, mm."""
    return CHORD[detail] * geometry.diameter


def detail_mesh(geometry: Geometry, detail: Detail) -> Mesh:
    """Return the spring's mesh at a level of detail.

    ``light`` is the same wire within 0.05 d. ``envelope`` is a plain cylinder over the body and
    the wire of both hooks, three closed shells that overlap where a hook leaves the body.
    """
    chord = chord_of(geometry, detail)
    if detail != "envelope":
        return tube_mesh(geometry.path, geometry.diameter / 2, chord)
    hooks = [tube_mesh(path, geometry.diameter / 2, chord) for path in hook_paths(geometry)]
    return joined([body_cylinder(geometry, chord), *hooks])


def hook_paths(geometry: Geometry) -> list[Path]:
    """Return the wire outside the body: that of A, that of B, without plain ends."""
    roles = [p.role == "body" for p in geometry.path.pieces]
    first, last = roles.index(True), len(roles) - roles[::-1].index(True)
    parts = geometry.path.pieces[:first], geometry.path.pieces[last:]
    return [Path(part) for part in parts if part]


def body_span(geometry: Geometry) -> tuple[float, float]:
    """Return the heights of the body's end faces, mm."""
    return geometry.a.hook_length, geometry.a.hook_length + geometry.body_length


def body_cylinder(geometry: Geometry, chord: float) -> Mesh:
    """Return the cylinder round the body's coils as a closed mesh."""
    radius = geometry.radius + geometry.diameter / 2
    return lathe([(radius, z) for z in body_span(geometry)], corners(radius, chord))


def corners(radius: float, chord: float) -> int:
    """Return how many corners a circle needs to stay within ``chord``."""
    return max(12, math.ceil(math.pi / math.acos(max(-1.0, 1 - chord / radius))))


def lathe(profile: list[tuple[float, float]], around: int) -> Mesh:
    """Return a profile of (radius, z), from low to high, turned about z, with flat ends."""
    angle = 2 * np.pi * np.arange(around) / around
    circle = np.column_stack([np.cos(angle), np.sin(angle)])
    rings = [np.column_stack([r * circle, np.full(around, z)]) for r, z in profile]
    hubs = [[0.0, 0.0, profile[0][1]], [0.0, 0.0, profile[-1][1]]]
    k, after = np.arange(around), np.roll(np.arange(around), -1)
    faces = []
    for i in range(len(profile) - 1):
        a, b = i * around + k, i * around + after
        c, d = a + around, b + around
        faces += [np.column_stack([a, b, d]), np.column_stack([a, d, c])]
    hub, top = len(profile) * around, (len(profile) - 1) * around
    faces.append(np.column_stack([np.full(around, hub), after, k]))
    faces.append(np.column_stack([np.full(around, hub + 1), top + k, top + after]))
    return Mesh(np.concatenate([*rings, np.array(hubs)]), np.concatenate(faces).astype(np.int32))


def joined(meshes: list[Mesh]) -> Mesh:
    """Return several closed meshes as one."""
    starts = np.cumsum([0, *(len(m.vertices) for m in meshes)])
    faces = [m.faces + np.int32(s) for m, s in zip(meshes, starts, strict=False)]
    return Mesh(np.concatenate([m.vertices for m in meshes]), np.concatenate(faces))
