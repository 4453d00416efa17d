"""The mesh of a tube: closed and outward by trimesh's own judgement, and as near as it says."""

from __future__ import annotations

import math
import time

import numpy as np
import pytest
import trimesh
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from springgeo.curve import Path, tube_box
from springgeo.errors import SpecError
from springgeo.mesh import tube_mesh
from springgeo.mesh.density import MOST_TRIANGLES, density

RADIUS = 0.5


@pytest.mark.parametrize("chord", [0.3, 0.05, 0.005])
def test_closed_and_outward(wire: Path, chord: float) -> None:
    mesh = tube_mesh(wire, RADIUS, chord)
    seen = mesh.trimesh()
    assert seen.is_watertight
    assert seen.is_winding_consistent
    assert seen.is_volume
    assert seen.euler_number == 2
    assert mesh.volume > 0
    assert mesh.volume == pytest.approx(seen.volume, rel=1e-10)
    assert mesh.area == pytest.approx(seen.area, rel=1e-12)
    assert len(mesh.faces) == density(wire, RADIUS, chord).triangles


@pytest.mark.parametrize("chord", [0.3, 0.05, 0.01, 0.002])
def test_mesh_is_within_the_chord_of_the_tube(wire: Path, chord: float, off_the_tube) -> None:
    below, above = off_the_tube(wire, tube_mesh(wire, RADIUS, chord), RADIUS)
    assert below <= chord
    assert above <= chord
    assert below + above > 0.3 * min(chord, RADIUS / 5)  # no more triangles than it takes


def test_tube_is_within_the_chord_of_the_mesh(wire: Path) -> None:
    chord = 0.02
    faces = tube_mesh(wire, RADIUS, chord).triangles
    rng = np.random.default_rng(3)
    s = np.concatenate([[0.0, wire.length], rng.uniform(0, wire.length, 60)])
    angle = rng.uniform(0, 2 * np.pi, len(s))[:, None]
    e1 = wire.normal(s)
    across = np.cos(angle) * e1 + np.sin(angle) * np.cross(wire.tangent(s), e1)
    for point in wire.point(s) + RADIUS * across:
        near = faces[np.all(np.abs(faces - point).min(axis=1) < 5.0, axis=1)]
        foot = trimesh.triangles.closest_point(near, np.broadcast_to(point, (len(near), 3)))
        assert np.linalg.norm(foot - point, axis=1).min() <= chord


def test_volume_tends_to_that_of_the_wire(wire: Path) -> None:
    exact = math.pi * RADIUS**2 * wire.length
    for chord in (0.05, 0.01, 0.001):
        loss = 1 - tube_mesh(wire, RADIUS, chord).volume / exact
        assert 0 < loss < 2 * chord / RADIUS + 1e-12  # the tube's own skin of that thickness


def test_corners_lie_on_the_tube(wire: Path) -> None:
    mesh = tube_mesh(wire, RADIUS, 0.05)
    plan = density(wire, RADIUS, 0.05)
    rings = mesh.vertices[:-2].reshape(-1, plan.around, 3)
    centres = rings.mean(axis=1)
    assert np.allclose(np.linalg.norm(rings - centres[:, None], axis=2), RADIUS, atol=1e-12)
    assert len(rings) == sum(plan.steps) + 1  # one ring at each joint
    assert np.allclose(centres[0], wire.point(np.zeros(1))[0], atol=1e-12)


def test_box_approaches_the_exact_box(wire: Path) -> None:
    vertices = tube_mesh(wire, RADIUS, 0.002).vertices
    box = tube_box(wire, RADIUS)
    assert np.all(vertices >= box[0] - 1e-9)
    assert np.all(vertices <= box[1] + 1e-9)
    assert np.abs(vertices.min(axis=0) - box[0]).max() <= 0.002
    assert np.abs(vertices.max(axis=0) - box[1]).max() <= 0.002


def test_rings_are_not_skewed(wire: Path) -> None:
    """The long edges of the strips go along the wire, also over joints."""
    plan = density(wire, RADIUS, 0.02)
    rings = tube_mesh(wire, RADIUS, 0.02).vertices[:-2].reshape(-1, plan.around, 3)
    edge = rings[1:] - rings[:-1]
    centres = rings.mean(axis=1)
    along = centres[1:] - centres[:-1]
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    aside = edge - np.sum(edge * along[:, None], axis=2)[..., None] * along[:, None]
    arm = rings[1:] - centres[1:, None]
    round_ = np.cross(along[:, None], arm) / RADIUS
    assert np.abs(np.sum(aside * round_, axis=2)).max() < 0.02


@settings(max_examples=25, deadline=None)
@given(
    radius=st.floats(0.05, 5.0),
    index=st.floats(2.5, 20.0),
    slope=st.floats(1.1, 6.0),
    turns=st.floats(0.1, 2.0),
    share=st.floats(1e-3, 0.99),
)
def test_any_coil(radius, index, slope, turns, share, make_coil, off_the_tube) -> None:
    path = make_coil(radius * index, 2 * radius * slope, turns)
    chord = share * radius
    assume(density(path, radius, chord).triangles < 200_000)
    mesh = tube_mesh(path, radius, chord)
    assert mesh.trimesh().is_volume
    assert mesh.trimesh().euler_number == 2
    assert max(off_the_tube(path, mesh, radius)) <= chord
    assert 0 < 1 - mesh.volume / (math.pi * radius**2 * path.length) < 2 * share


def test_same_input_same_mesh(wire: Path) -> None:
    first, second = tube_mesh(wire, RADIUS, 0.02), tube_mesh(wire, RADIUS, 0.02)
    assert first.vertices.tobytes() == second.vertices.tobytes()
    assert first.faces.tobytes() == second.faces.tobytes()
    assert first.vertices.dtype == np.float64
    assert first.faces.dtype == np.int32
    with pytest.raises(ValueError, match="read-only"):
        first.vertices[0] = 0.0


def test_two_hundred_coils(make_coil) -> None:
    start = time.perf_counter()
    mesh = tube_mesh(make_coil(4.0, 1.05, 200.0), RADIUS, 0.01)
    assert time.perf_counter() - start < 2.0
    assert len(mesh.faces) > 500_000
    assert mesh.volume > 0


@pytest.mark.parametrize(
    ("radius", "chord", "code", "field"),
    [
        (0.5, 0.0, "chord-not-positive", "chord"),
        (0.5, -1.0, "chord-not-positive", "chord"),
        (0.5, math.nan, "chord-not-positive", "chord"),
        (0.5, math.inf, "chord-not-positive", "chord"),
        (0.5, 0.5, "chord-too-large", "chord"),
        (0.5, 7.0, "chord-too-large", "chord"),
        (0.5, 1e-8, "mesh-too-fine", "chord"),
        (0.5, 5e-324, "mesh-too-fine", "chord"),
        (0.0, 0.1, "radius-not-positive", "radius"),
        (math.nan, 0.1, "radius-not-positive", "radius"),
        (4.1, 0.1, "bend-too-tight", "body"),
    ],
)
def test_refusals(radius: float, chord: float, code: str, field: str, make_coil) -> None:
    with pytest.raises(SpecError) as caught:
        tube_mesh(make_coil(4.0, 1.05, 5.0), radius, chord)
    finding = caught.value.findings[0]
    assert (finding.code, finding.field, finding.severity) == (code, field, "error")
    assert "mm" in finding.message
    assert "\n" not in finding.message


def test_the_limit_is_named(make_coil) -> None:
    with pytest.raises(SpecError, match=f"1e-06 mm .* more than {MOST_TRIANGLES:,}"):
        tube_mesh(make_coil(4.0, 1.05, 100.0), RADIUS, 1e-6)
