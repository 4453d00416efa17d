"""Inspecting files: what matches, what was changed, and what is foreign or damaged."""

import json
import shutil
import struct
import zipfile
from io import BytesIO

import numpy as np
import pytest

from springgeo.cli.main import run
from springgeo.errors import FileError
from springgeo.files.inspect import inspect_file
from springgeo.mesh import Mesh
from springgeo.mesh.stl import read_stl, stl_bytes
from tests.gate import thinned

KINDS = ("step", "stl", "3mf", "glb")
read_here = pytest.mark.usefixtures("read_here")


@pytest.fixture
def files(built, tmp_path):
    for file in built.iterdir():
        shutil.copy(file, tmp_path)
    return tmp_path


@pytest.mark.parametrize("kind", KINDS)
def test_what_was_written_matches(built, kind, capsys):
    file = built / f"test-spring.{kind}"
    found = inspect_file(file)
    assert found.matches
    names = [c.name for c in found.comparisons]
    assert names[:4] == ["volume", "box x", "box y", "box z"]
    assert [n.split(" ")[0] for n in names[4:]] == ["model's"] * len(found.dimensions)
    assert found.summary == json.loads((built / "test-spring.json").read_text())
    assert run(["inspect", str(file), "--json", "--strict"]) == 0
    printed = json.loads(capsys.readouterr().out)
    assert printed["matches"] is True
    assert printed["summary"] == found.summary


@read_here
def test_a_changed_stl_no_longer_matches(files, capsys):
    file = files / "test-spring.stl"
    header, triangles = read_stl(file.read_bytes())
    corners = triangles.reshape(-1, 3).astype(float) * 1.001
    mesh = Mesh(corners, np.arange(len(corners), dtype=np.int32).reshape(-1, 3))
    file.write_bytes(stl_bytes(mesh, header))
    assert not inspect_file(file).matches
    assert run(["inspect", str(file)]) == 0
    assert "DOES NOT MATCH" in capsys.readouterr().out
    assert run(["inspect", str(file), "--strict"]) == 1


@read_here
def test_a_changed_3mf_and_glb_no_longer_match(files):
    file = files / "test-spring.3mf"
    with zipfile.ZipFile(file) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    model = parts["3D/3dmodel.model"]
    at = model.index(b'<vertex x="') + len(b'<vertex x="')
    parts["3D/3dmodel.model"] = model[:at] + b"9" + model[at:].lstrip(b"-")
    buffer = BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    file.write_bytes(buffer.getvalue())
    assert not inspect_file(file).matches

    glb = files / "test-spring.glb"
    data = bytearray(glb.read_bytes())
    start = 20 + struct.unpack_from("<I", data, 12)[0] + 8
    struct.pack_into("<f", data, start, 1.0)
    glb.write_bytes(data)
    assert not inspect_file(glb).matches


@read_here
def test_an_stl_needs_its_own_json_beside_it(files):
    stl = files / "test-spring.stl"
    (files / "test-spring.json").write_text(json.dumps({"schema_version": "springgeo-summary/1"}))
    with pytest.raises(FileError, match="of another build"):
        inspect_file(stl)
    (files / "test-spring.json").unlink()
    with pytest.raises(FileError, match=r"no springgeo summary inside.*test-spring\.json"):
        inspect_file(stl)


FOREIGN = {
    "a.step": b"ISO-10303-21;\nHEADER;\nnonsense",
    "b.stl": b"solid x\nendsolid x\n",
    "c.stl": b"somebody else".ljust(80) + struct.pack("<I", 0),
    "d.3mf": b"PK\x03\x04 not a zip",
    "e.3mf": b"",
    "f.glb": b"glTF" + b"\0" * 40,
    "g.glb": b"",
    "h.pdf": b"%PDF",
    "i": b"",
    "j.json": b"{}",
}


@read_here
@pytest.mark.parametrize("name", [*FOREIGN, "missing.step", "folder.stl", "missing.glb"])
def test_foreign_files_are_one_line_and_code_2(tmp_path, capsys, name):
    (tmp_path / "folder.stl").mkdir()
    if name in FOREIGN:
        (tmp_path / name).write_bytes(FOREIGN[name])
    assert run(["inspect", str(tmp_path / name)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert name in err


@read_here
def test_a_foreign_step(tmp_path, capsys):
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox

    from springgeo.files.step.write import StepPart, write_step

    part = StepPart("box", BRepPrimAPI_MakeBox(1, 2, 3).Shape())
    write_step(tmp_path / "a.step", [part], product="p", description="", attributes={})
    assert run(["inspect", str(tmp_path / "a.step")]) == 2
    assert "without a springgeo summary" in capsys.readouterr().err


@pytest.mark.parametrize(("kind", "share"), thinned(4, KINDS, [0.01, 0.3, 0.7, 0.999]))
def test_files_cut_short(files, capsys, kind, share):
    file = files / f"test-spring.{kind}"
    data = file.read_bytes()
    file.write_bytes(data[: int(share * len(data))])
    assert run(["inspect", str(file)]) == 2
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["3mf", "glb", "stl"])
def test_files_with_a_flipped_byte_never_crash(files, capsys, kind):
    file = files / f"test-spring.{kind}"
    data = file.read_bytes()
    for at in range(0, len(data), max(1, len(data) // 20)):
        file.write_bytes(data[:at] + bytes([data[at] ^ 0xFF]) + data[at + 1 :])
        assert run(["inspect", str(file)]) in (0, 2), at
    capsys.readouterr()


@read_here
def test_a_document_type_is_refused(files):
    file = files / "test-spring.3mf"
    with zipfile.ZipFile(file) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    with zipfile.ZipFile(file, "w") as archive:
        for name, data in parts.items():
            extra = b"<!DOCTYPE x>" if name.endswith(".model") else b""
            archive.writestr(name, extra + data)
    with pytest.raises(FileError, match="document type"):
        inspect_file(file)
