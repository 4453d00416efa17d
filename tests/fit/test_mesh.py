"""Our clearance against triangles: vertices of the tube, and a mesh collision library."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from springgeo import Spring
from springgeo.fit import Cylinder, Wire, clearance

from .conftest import specification

# of the mesh, mm; sides of a meshed pin
CHORD, SIDES = 0.02, 64


def pins(spring: Spring, count: int) -> list[Cylinder]:
    rng = np.random.default_rng(11)
    low, high = spring.at(length=spring.free_length).box
    return [
        Cylinder(
            rng.uniform(low - 2, high + 2),
            rng.normal(size=3),
            float(rng.uniform(0.5, 2.5)),
            float(rng.uniform(2.0, 20.0)),
        )
        for _ in range(count)
    ]


def test_no_vertex_is_nearer_and_some_is_nearly_as_near(half: Spring) -> None:
    state = half.at(length=half.free_length)
    wire = Wire.of(state.geometry.path, state.geometry.wire_diameter)
    vertices = np.asarray(state.mesh(0.002).vertices)
    for pin in pins(half, 60):
        own = clearance(wire, pin).distance
        seen = float(pin.distance(vertices).min())
        if own > 0:
            assert own - 1e-9 <= seen < own + 0.02


@pytest.mark.parametrize("style", ["machine-half-loop", "full-twisted-loop"])
@pytest.mark.parametrize("count", [50, pytest.param(100, marks=pytest.mark.slow)])
def test_mesh_library_agrees(style: str, count: int) -> None:
    """manifold3d's own gap and intersection of two meshes, on so many pins for each style."""
    m3 = pytest.importorskip("manifold3d", reason="comes with pip install 'springgeo[dev]'")
    made = Spring.from_dict(
        {**specification(style), "body": {"mean_diameter": 9.6, "coils": 3}, "service": {}}
    )
    state = made.at(length=made.free_length)
    wire, mesh = Wire.of(state.geometry.path, state.geometry.wire_diameter), state.mesh(CHORD)
    vertices, faces = mesh.vertices.astype(np.float32), mesh.faces.astype(np.uint32)
    body = m3.Manifold(m3.Mesh(vertices, faces))
    apart = overlapping = 0
    for pin in pins(made, count):
        axis = pin.axis / np.linalg.norm(pin.axis)
        turn = trimesh.geometry.align_vectors([0, 0, 1], axis)[:3, :3]
        other = m3.Manifold.cylinder(pin.length, pin.radius, pin.radius, SIDES, True)
        other = other.transform(np.column_stack([turn, pin.centre]))
        # facets leave out, or bridge on the inner side of a bend, at most so much
        bound = CHORD + pin.radius * (1 - np.cos(np.pi / SIDES)) + 1e-5
        own = clearance(wire, pin).distance
        if own > 0:
            apart += 1
            assert body.min_gap(other, own + 2 * bound) == pytest.approx(own, abs=bound)
        elif own < -bound:
            overlapping += 1
            assert (body ^ other).volume() > 0
    assert min(apart, overlapping) > 0.3 * count
