"""Every registered format: written, the same bytes again, and the same shape to other readers."""

import json
import math
import subprocess
import sys
import threading
from dataclasses import replace

import numpy as np
import pytest
import trimesh

from springgeo.errors import FileError, SpecError
from springgeo.files.formats.threemf_read import read_threemf
from springgeo.files.publish import registry
from springgeo.files.publish.bundle import export_bundle
from springgeo.files.publish.detail import CHORD, DETAILS, detail_mesh
from springgeo.files.publish.exporter import Exporter
from tests.plugins.entries import Entry, installed, unasked

from .conftest import MESHES

NAMES = ["3mf", "brep", "glb", "json", "obj", "ply", "step", "stl"]


def test_in_tree_formats_are_found():
    assert set(NAMES) <= set(registry.exporters())
    assert all(e.title and e.extension for e in registry.exporters().values())


def test_an_unknown_format_offers_the_nearest():
    with pytest.raises(SpecError, match="did you mean 'step'"):
        registry.get("stepp")


def test_a_broken_plug_in_is_reported_and_skipped(monkeypatch):
    stl = registry.get("stl")
    own = [Entry("stl", "springgeo.files.formats.stl:EXPORTER", stl)]
    others = [
        Entry("bad", "other.package:THING", RuntimeError("no\nluck")),
        Entry("odd", "other.package:THING", 7),
        Entry("misnamed", "other.package:THING", stl),
        Entry("leaves", "other.package:THING", SystemExit()),
        Entry("stl", "other.package:THING", registry.get("obj")),
    ]
    installed(monkeypatch, own, [*others, *own])
    monkeypatch.setattr(registry, "_known", replace(registry._known, **unasked()))
    assert list(registry.exporters()) == ["stl"]
    findings = registry.skipped()
    assert [f.code for f in findings] == ["format-skipped"] * 5
    assert all("\n" not in f.message and "other.package" in f.message for f in findings)


def raises(_target, _job):
    raise ZeroDivisionError("a\nb")


def leaves(_target, _job):
    sys.exit("bye")


def waits(_target, _job):
    threading.Event().wait(5)


def prints(target, _job):
    print("here I am")
    target.write_bytes(b"content")


@pytest.mark.parametrize(
    ("write", "words"),
    [
        (raises, "format 'mine' failed: ZeroDivisionError: a b"),
        (leaves, "format 'mine' failed: SystemExit: bye"),
        (waits, "no answer within 0.1 s"),
        (lambda _target, _job: None, "wrote no file"),
        (lambda target, _job: target.mkdir(), "wrote no file"),
        (lambda target, _job: target.symlink_to("/etc/hostname"), "wrote no file"),
        (lambda target, _job: target.write_bytes(b""), "wrote no file"),
    ],
)
def test_an_exporter_that_fails_is_one_line_and_writes_nothing(
    spring, tmp_path, monkeypatch, write, words
):
    monkeypatch.setattr(registry, "WRITE", 0.1)
    mine = Exporter("mine", "mine", "a made-up format", write)
    installed(monkeypatch, [Entry("json", "springgeo.x:E", registry.get("json"))], [])
    registry_with = replace(registry._known, **unasked())
    registry_with.register(mine)
    monkeypatch.setattr(registry, "_known", registry_with)
    with pytest.raises(FileError) as caught:
        spring.build(tmp_path, formats=["mine"])
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)
    assert list(tmp_path.iterdir()) == []


def test_what_an_exporter_prints_stays_out_of_standard_output(
    spring, tmp_path, monkeypatch, capsys
):
    registry_with = replace(registry._known, **unasked())
    registry_with.register(Exporter("mine", "mine", "a made-up format", prints))
    monkeypatch.setattr(registry, "_known", registry_with)
    spring.build(tmp_path, formats=["mine"])
    out, err = capsys.readouterr()
    assert out == ""
    assert "here I am" in err


@pytest.mark.parametrize("name", MESHES)
def test_meshes_are_closed_and_have_the_springs_volume(built, spring, name):
    file = built / f"test-spring.{name}"
    if name == "3mf":  # trimesh needs further packages for it; tests/outside reads it with lib3mf
        mesh = read_threemf(file.read_bytes())[0].trimesh()
    else:
        mesh = trimesh.load_mesh(file, process=True)
    mesh.merge_vertices()
    g = spring.model.geometry
    exact = math.pi * g.wire_diameter**2 / 4 * g.path.length
    unit = 1e9 if name == "glb" else 1.0
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume * unit == pytest.approx(spring.mesh().volume, rel=2e-6)
    # a mesh inside the tube by at most the chord error c loses at most c times the area: 4 c/d
    assert mesh.volume * unit == pytest.approx(exact, rel=4 * CHORD["exact"])
    size = mesh.extents * (1000 if name == "glb" else 1)
    along = size[1] if name == "glb" else size[2]
    assert along == pytest.approx(g.overall_length, abs=0.02)


def test_glb_is_y_up_not_mirrored_and_carries_its_data(built, spring):
    scene = trimesh.load_scene(built / "test-spring.glb")
    mesh = scene.to_mesh()
    ours = spring.mesh().vertices
    assert np.allclose(mesh.vertices[:, [0, 1]] * 1000, ours[:, [0, 2]], atol=1e-4)
    assert np.allclose(-mesh.vertices[:, 2] * 1000, ours[:, 1], atol=1e-4)
    raw = (built / "test-spring.glb").read_bytes()
    document = json.loads(raw[20 : 20 + int.from_bytes(raw[12:16], "little")])
    summary = document["nodes"][0]["extras"]["springgeo-summary"]
    assert summary == json.loads((built / "test-spring.json").read_text())


def test_the_same_spring_gives_the_same_bytes_in_another_process(built, tmp_path):
    script = (
        "import sys, pathlib, json\n"
        "from springgeo.api import Spring\n"
        "from springgeo.files.publish.bundle import export_bundle\n"
        "spec = json.loads(sys.argv[2])\n"
        "names = ['step', 'brep', 'stl', '3mf', 'glb', 'obj', 'ply']\n"
        "export_bundle(Spring.from_dict(spec).model, pathlib.Path(sys.argv[1]), formats=names)\n"
    )
    from .conftest import SPEC

    subprocess.run([sys.executable, "-c", script, tmp_path, json.dumps(SPEC)], check=True)
    for file in built.iterdir():
        assert (tmp_path / file.name).read_bytes() == file.read_bytes(), file.name


@pytest.mark.parametrize("detail", DETAILS)
def test_levels_of_detail_keep_volume_box_and_closed_shells(spring, tmp_path, detail):
    g = spring.model.geometry
    mesh = detail_mesh(g, detail)
    shells = mesh.trimesh().split(only_watertight=True)
    assert len(shells) == (3 if detail == "envelope" else 1)
    assert all(s.volume > 0 for s in shells)
    box = np.array([mesh.vertices.min(axis=0), mesh.vertices.max(axis=0)])
    slack = CHORD[detail] * g.wire_diameter * (1.5 if detail != "envelope" else 3)
    assert np.abs(box[:, 2] - [-g.wire_diameter, g.length + g.wire_diameter]).max() <= slack


def test_a_summary_that_is_there_is_not_made_again(built, spring, tmp_path, monkeypatch):
    """What a solid adds to it is all that a build computes of it, and the bytes are the same."""
    text = export_bundle(spring.model, tmp_path / "anew", formats=["step"]).summary.json_text()
    spring.summary()
    monkeypatch.delattr("springgeo.checks.checked.summarise")
    found = spring.build(tmp_path, formats=["step"]).summary
    assert found.json_text() == text
    assert found.free_length.solid is not None
    assert len(found.checks) > len(spring.summary().checks)


def test_a_mesh_alone_needs_no_kernel(tmp_path):
    script = (
        "import sys, pathlib\n"
        "from springgeo.api import Spring\n"
        "from springgeo.files.publish.bundle import export_bundle\n"
        "model = Spring.from_preset('gate-latch').model\n"
        "export_bundle(model, pathlib.Path(sys.argv[1]), formats=['stl', '3mf', 'glb'])\n"
        "assert 'OCP' not in sys.modules and 'cadquery' not in sys.modules\n"
        "assert 'trimesh' not in sys.modules\n"
    )
    subprocess.run([sys.executable, "-c", script, tmp_path], check=True)


def test_step_of_the_envelope_has_three_solids(spring, tmp_path):
    from springgeo.files.step.read import read_step

    spring.build(tmp_path, formats=["step"], detail="envelope")
    content = read_step(tmp_path / "test-spring-envelope.step")
    import cadquery as cq

    assert len(cq.Shape.cast(content.shape).Solids()) == 3
