"""Pieces too short to be told: left out of the wire, of meshes and of elements."""

from __future__ import annotations

import io

import numpy as np
import pytest
import trimesh

from springgeo import Spring
from springgeo.curve.slivers import SLIVER
from springgeo.elements.along import layers
from springgeo.mesh.stl import stl_bytes
from springgeo.mesh.tube import tube_mesh

LESS = [1e-2, 1e-5, 1e-6, 1e-8, 1e-10]


def _hooked(less: float) -> Spring:
    """Return a spring whose hook is bent to that much less than the coil's radius, mm.

    A knuckle of a sixth of that leads from the coil's cylinder to the hook.
    """
    hook = {
        "style": "raised-hook",
        "bend_radius": 1.6,
        "loop_radius": 4.0 - less,
        "hook_length": 14.0,
    }
    return Spring.from_dict(
        {
            "name": "nearly",
            "wire": {"material": "en-10270-1-sm", "diameter": 1.0},
            "body": {"mean_diameter": 8.0, "coils": 5.3, "initial_tension": 4.0},
            "ends": {"first": hook, "second": {"style": "machine-half-loop"}},
        }
    )


@pytest.mark.parametrize("less", LESS)
def test_no_piece_is_shorter_and_all_meet(less: float) -> None:
    path, whole = _hooked(less).model.geometry.path, _hooked(0.0).model.geometry.path
    assert min(p.segment.length for p in path.pieces) >= SLIVER
    assert path.joint_gaps().max() < 1e-10
    assert path.joint_angles().max() < 1e-9
    assert path.length == pytest.approx(whole.length, abs=20 * less + 1e-9)
    ends = (x.point(np.array([0.0, x.length])) for x in (path, whole))
    assert np.abs(np.subtract(*ends)).max() < 20 * less + 1e-9


@pytest.mark.parametrize("less", LESS)
def test_the_mesh_is_closed_in_single_precision(less: float) -> None:
    """Read back by trimesh, which merges corners that are the same."""
    mesh = tube_mesh(_hooked(less).model.geometry.path, 0.5, 0.02)
    read = trimesh.load(io.BytesIO(stl_bytes(mesh, "nearly")), file_type="stl")
    assert read.is_watertight
    assert read.euler_number == 2
    assert read.area_faces.min() > 0.0


@pytest.mark.parametrize("less", LESS)
def test_no_layer_of_elements_is_a_film(less: float) -> None:
    geometry = _hooked(less).model.geometry
    edges = layers(geometry.path, 1.0, 0.2, geometry.load_s)
    assert np.diff(edges).min() > 0.05 * 0.2
    for s in geometry.load_s:
        assert np.abs(edges - s).min() < 1e-12 * geometry.path.length
