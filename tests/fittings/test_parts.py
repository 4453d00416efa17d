"""Parts of fitted ends: sound solids and meshes, clear of the wire, the same under load."""

from __future__ import annotations

import math

import cadquery as cq
import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from springgeo.curve import Line, Path, Piece
from springgeo.curve.frame import vector
from springgeo.fittings import Part, Plate, Turned
from springgeo.mesh import part_mesh
from springgeo.solid import exact_box, is_valid, part_solid, volume
from tests.ends_catalogue.parts import clearances

from .springs import FITTED, spring


def test_there_are_fitted_styles() -> None:
    assert len(FITTED) >= 5


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("style", FITTED)
def test_solid_and_mesh_are_sound_and_the_same(style: str, hand: str) -> None:
    for part in spring(style, style, hand=hand).model.geometry.parts:
        solid = part_solid(part)
        assert is_valid(solid)
        assert volume(solid) == pytest.approx(part.volume, rel=1e-9)
        assert np.abs(exact_box(solid) - part.box).max() < 1e-6
        coarse, fine = (part_mesh(part, chord).trimesh() for chord in (0.02, 0.005))
        for mesh in (coarse, fine):  # trimesh as the referee
            assert mesh.is_watertight
            assert mesh.is_winding_consistent
            assert mesh.euler_number == (0 if isinstance(part.form, Plate) else 2)
        off = [abs(m.volume / part.volume - 1) for m in (coarse, fine)]
        assert off[1] < 0.45 * off[0] < 0.01
        far = np.array(
            [
                cq.Shape.cast(solid).distance(cq.Vertex.makeVertex(*v))
                for v in fine.vertices[:: max(1, len(fine.vertices) // 8)]
            ]
        )
        assert far.max() < 1e-6


@pytest.mark.parametrize("style", FITTED)
def test_the_box_is_exact_however_a_part_is_turned(style: str) -> None:
    rng = np.random.default_rng(3)
    for part in spring(style, "plain").model.geometry.parts:
        for turned in Rotation.random(4, rng=rng).as_matrix():
            moved = part.moved(turned, np.array([3.0, -2.0, 1.0]))
            assert np.abs(exact_box(part_solid(moved)) - moved.box).max() < 1e-6


@pytest.mark.parametrize("style", FITTED)
def test_a_part_is_rigid_and_clear_of_the_wire_under_load(style: str) -> None:
    s = spring(style, "full-twisted-loop")
    free, loaded = s.model.geometry, s.at(load=15).geometry
    for before, after in zip(free.parts, loaded.parts, strict=True):
        assert after.form.volume == pytest.approx(before.form.volume, rel=1e-12)
        same = part_mesh(before, 0.05), part_mesh(after, 0.05)
        sides = [np.linalg.norm(np.diff(m.triangles, axis=1), axis=2) for m in same]
        assert np.allclose(*sides, atol=1e-9)
    for geometry in (free, loaded):
        assert all(0.01 < gap < 0.2 for gap in clearances(geometry).values())


@pytest.mark.parametrize("style", ["coned-swivel-eye", "threaded-plug"])
def test_the_kernel_sees_the_same_clearance(style: str) -> None:
    s = spring("plain", style)
    state = s.at(length=s.free_length)
    (gap,) = clearances(state.geometry).values()
    (part,) = state.parts().values()
    assert state.solid().distance(part) == pytest.approx(gap, abs=5e-3)


def test_volume_and_box_of_a_turned_part_with_a_rod() -> None:
    rod = Path([Piece(Line.between(vector(0, 0, 3), vector(0, 0, 7)), "rod", "straight")])
    form = Turned(((2.0, 0.0), (2.0, 1.0), (1.0, 3.0)), rod)
    # cylinder, frustum and rod of school geometry
    assert form.volume == pytest.approx(math.pi * (4 + 14 / 3 + 4))
    part = Part("pin", form)
    assert np.allclose(part.box, [[-2, -2, 0], [2, 2, 7]])
    assert volume(part_solid(part)) == pytest.approx(form.volume, rel=1e-9)


@pytest.mark.parametrize(
    "profile", [((1.0, 0.0),), ((1.0, 0.0), (0.0, 1.0)), ((1.0, 1.0), (1.0, 0.0))]
)
def test_profiles_that_are_no_profile(profile: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(ValueError, match="profile"):
        Turned(profile)


def test_plates_that_are_no_plate() -> None:
    left, right = ((-2.0, 0.0), (-2.0, 5.0)), ((2.0, 0.0), (2.0, 5.0))
    plate = Plate(left, right, 5.0, 2.0, 1.0, 0.5)
    assert plate.area == pytest.approx(20 + 2 * math.pi - math.pi)
    for wrong in ((left, left), (right, right), (((-2.0, 1.0), (-2.0, 5.0)), right)):
        with pytest.raises(ValueError, match="plate"):
            Plate(*wrong, 5.0, 2.0, 1.0, 0.5)
    with pytest.raises(ValueError, match="hole"):
        Plate(left, right, 5.0, 2.0, 2.5, 0.5)
