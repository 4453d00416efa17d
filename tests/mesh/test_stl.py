"""Binary STL: read back by our own reader, by numpy-stl and by trimesh."""

from __future__ import annotations

import io
import struct

import numpy as np
import pytest
import stl
import trimesh

from springgeo.curve import Path
from springgeo.mesh import Mesh, tube_mesh
from springgeo.mesh.stl import read_stl, stl_bytes


@pytest.fixture
def mesh(wire: Path) -> Mesh:
    return tube_mesh(wire, 0.5, 0.03)


def test_own_reader(mesh: Mesh) -> None:
    data = stl_bytes(mesh, "springgeo test unit=mm")
    header, triangles = read_stl(data)
    assert header == "springgeo test unit=mm"
    assert np.array_equal(triangles, mesh.triangles.astype(np.float32))


def test_layout(mesh: Mesh) -> None:
    data = stl_bytes(mesh, "springgeo")
    assert data[:80] == b"springgeo" + b" " * 71
    assert struct.unpack_from("<I", data, 80) == (len(mesh.faces),)
    assert len(data) == 84 + 50 * len(mesh.faces)
    first = struct.unpack_from("<12fH", data, 84)
    assert np.allclose(np.reshape(first[3:12], (3, 3)), mesh.triangles[0], atol=1e-5)
    assert first[12] == 0
    assert np.linalg.norm(first[:3]) == pytest.approx(1.0, abs=1e-6)


def test_deterministic(wire: Path, mesh: Mesh) -> None:
    again = tube_mesh(wire, 0.5, 0.03)
    assert stl_bytes(mesh, "a") == stl_bytes(again, "a")
    assert stl_bytes(mesh, "a")[80:] == stl_bytes(mesh, "b")[80:]


def test_numpy_stl(mesh: Mesh) -> None:
    read = stl.mesh.Mesh.from_file("", fh=io.BytesIO(stl_bytes(mesh, "springgeo")))
    assert np.array_equal(read.vectors, mesh.triangles.astype(np.float32))
    normals = read.normals / np.linalg.norm(read.normals, axis=1, keepdims=True)
    stored = np.frombuffer(stl_bytes(mesh, "springgeo"), dtype="u1", offset=84).reshape(-1, 50)
    ours = stored[:, :12].copy().view("<f4").reshape(-1, 3)
    assert np.allclose(normals, ours, atol=1e-3)
    volume, _, _ = read.get_mass_properties()
    assert volume == pytest.approx(mesh.volume, rel=1e-5)


def test_trimesh(mesh: Mesh) -> None:
    read = trimesh.load(io.BytesIO(stl_bytes(mesh, "springgeo")), file_type="stl")
    assert read.is_volume
    assert read.euler_number == 2
    assert len(read.faces) == len(mesh.faces)
    assert read.volume == pytest.approx(mesh.volume, rel=1e-5)


@pytest.mark.parametrize(
    ("header", "match"),
    [
        ("solid spring", "solid"),
        ("  Solid", "solid"),
        ("x" * 81, "81 characters"),
        ("0.5 µm", "ASCII"),
        ("two\nlines", "ASCII"),
    ],
)
def test_header_refused(mesh: Mesh, header: str, match: str) -> None:
    with pytest.raises(ValueError, match=match):
        stl_bytes(mesh, header)


def test_longest_and_empty_header(mesh: Mesh) -> None:
    assert read_stl(stl_bytes(mesh, "x" * 80))[0] == "x" * 80
    assert read_stl(stl_bytes(mesh, ""))[0] == ""


def test_coordinates_out_of_range() -> None:
    far = Mesh(np.eye(3) * 1e39, np.array([[0, 1, 2]], dtype=np.int32))
    with pytest.raises(ValueError, match="single precision"):
        stl_bytes(far, "far")


def test_flat_triangle_has_zero_normal() -> None:
    flat = Mesh(np.zeros((3, 3)), np.array([[0, 1, 2]], dtype=np.int32))
    assert stl_bytes(flat, "flat")[84:96] == bytes(12)


def test_unsound_files_refused(mesh: Mesh) -> None:
    data = stl_bytes(mesh, "springgeo")
    for bad in (b"", data[:83], data[:-1], data + b"\0", b"solid x\nendsolid x\n" * 9):
        with pytest.raises(ValueError, match="binary STL"):
            read_stl(bad)
