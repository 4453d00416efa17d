"""Levels of detail of a mesh: exact, light, or only the space the spring takes up."""

from __future__ import annotations

from typing import Literal, get_args

import numpy as np

from springgeo.curve import Path
from springgeo.fittings import Part, Turned
from springgeo.mesh import Mesh, part_mesh, tube_mesh
from springgeo.spring.geometry import Geometry

Detail = Literal["exact", "light", "envelope"]
DETAILS: tuple[Detail, ...] = get_args(Detail)
# greatest distance between mesh and true surface, in wire diameters
CHORD = {"exact": 0.01, "light": 0.05, "envelope": 0.05}


def chord_of(geometry: Geometry, detail: Detail) -> float:
    """Return the chord error of a level of detail, mm."""
    return CHORD[detail] * geometry.wire_diameter


def detail_mesh(geometry: Geometry, detail: Detail) -> Mesh:
    """Return the mesh of the wire and of what fitted ends hold, closed shells side by side."""
    return joined([mesh for _, mesh in named_meshes(geometry, detail)])


def named_meshes(geometry: Geometry, detail: Detail) -> list[tuple[str, Mesh]]:
    """Return the wire's mesh at a level of detail, then those of the parts, by name."""
    chord = chord_of(geometry, detail)
    parts = [(part.name, part_mesh(part, chord)) for part in geometry.parts]
    return [("wire", wire_mesh(geometry, detail)), *parts]


def wire_mesh(geometry: Geometry, detail: Detail) -> Mesh:
    """Return the wire's mesh at a level of detail.

    ``light`` is the same wire within 0.05 d. ``envelope`` is a plain cylinder over the body and
    the wire of both hooks, three closed shells that overlap where a hook leaves the body.
    """
    chord = chord_of(geometry, detail)
    if detail != "envelope":
        return tube_mesh(geometry.path, geometry.wire_diameter / 2, chord)
    hooks = [tube_mesh(path, geometry.wire_diameter / 2, chord) for path in hook_paths(geometry)]
    return joined([body_cylinder(geometry, chord), *hooks])


def hook_paths(geometry: Geometry) -> list[Path]:
    """Return the wire outside the body: that of A, that of B, without plain ends."""
    roles = [p.role == "body" for p in geometry.path.pieces]
    first, last = roles.index(True), len(roles) - roles[::-1].index(True)
    parts = geometry.path.pieces[:first], geometry.path.pieces[last:]
    return [Path(part) for part in parts if part]


def body_cylinder(geometry: Geometry, chord: float) -> Mesh:
    """Return the cylinder round the body's coils as a closed mesh."""
    radius = geometry.coil_radius + geometry.wire_diameter / 2
    low, high = geometry.body_faces
    return part_mesh(Part("body", Turned(((radius, low), (radius, high)))), chord)


def joined(meshes: list[Mesh]) -> Mesh:
    """Return several closed meshes as one."""
    if len(meshes) == 1:
        return meshes[0]
    starts = np.cumsum([0, *(len(m.vertices) for m in meshes)])
    faces = [m.faces + np.int32(s) for m, s in zip(meshes, starts, strict=False)]
    return Mesh(np.concatenate([m.vertices for m in meshes]), np.concatenate(faces))
