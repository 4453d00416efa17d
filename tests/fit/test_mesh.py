"""Our clearance against triangles: vertices of the tube, and mesh booleans where installed."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from springgeo import Spring
from springgeo.fit import Cylinder, Wire, clearance


def pins(spring: Spring, count: int) -> list[Cylinder]:
    rng = np.random.default_rng(11)
    low, high = spring.at(length=spring.free_length).box
    return [
        Cylinder(rng.uniform(low - 2, high + 2), rng.normal(size=3),
                 float(rng.uniform(0.5, 2.5)), float(rng.uniform(2.0, 20.0)))
        for _ in range(count)
    ]  # fmt: skip


def test_no_vertex_is_nearer_and_some_is_nearly_as_near(half: Spring) -> None:
    state = half.at(length=half.free_length)
    wire = Wire.of(state.geometry.path, state.geometry.diameter)
    vertices = np.asarray(state.mesh(0.002).vertices)
    for pin in pins(half, 60):
        own = clearance(wire, pin).distance
        seen = float(pin.distance(vertices).min())
        if own > 0:
            assert own - 1e-9 <= seen < own + 0.02


def test_mesh_booleans_agree_about_overlap(half: Spring) -> None:
    pytest.importorskip("manifold3d", reason="mesh booleans need manifold3d, which is optional")
    state = half.at(length=half.free_length)
    wire = Wire.of(state.geometry.path, state.geometry.diameter)
    mesh = state.mesh(0.005)
    body = trimesh.Trimesh(mesh.vertices, mesh.faces)
    for pin in pins(half, 30):
        own = clearance(wire, pin).distance
        if abs(own) < 0.05:
            continue
        turn = trimesh.geometry.align_vectors([0, 0, 1], pin.axis / np.linalg.norm(pin.axis))
        turn[:3, 3] = pin.centre
        other = trimesh.creation.cylinder(pin.radius, pin.length, sections=256, transform=turn)
        common = trimesh.boolean.intersection([body, other], engine="manifold")
        assert (common.volume > 1e-9) == (own < 0)
