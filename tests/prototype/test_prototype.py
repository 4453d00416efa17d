"""Printed prototypes: closed, apart, true where pins go, and loud about what they are not."""

import json
import zipfile

import numpy as np
import pytest

from springgeo.cli.main import run
from springgeo.curve import body_approach
from springgeo.errors import SpecError
from springgeo.files.publish.bundle import NamedState
from springgeo.files.publish.exporter import StateFacts
from springgeo.prototype import Options, prototype
from springgeo.prototype.opened import opened
from springgeo.text.shown import Shown
from tests.springs import kept

pytestmark = pytest.mark.usefixtures("presets_kept")

PRESETS = ["gate-latch", "paper-feed-return", "damper-flap", "relay-armature", "loom-tensioner"]


@pytest.fixture(params=PRESETS)
def spring(request):
    return kept(request.param)


@pytest.mark.parametrize(
    "options",
    [
        Options(),
        Options(flat=True),
        Options(dummy=True),
        Options(dummy=True, flat=True),
        Options(scale=2.5, gap=0.6),
    ],
    ids=["open", "flat", "dummy", "dummy-flat", "scaled"],
)
def test_every_shell_is_closed_faces_outward_and_lies_on_the_bed(spring, options):
    plate = prototype(spring.model, options)
    for item in plate.items:
        for _, mesh in item.parts:
            t = mesh.trimesh()
            assert t.is_watertight
            assert t.is_winding_consistent
            assert t.volume > 0
            assert mesh.vertices[:, 2].min() >= 0
    low = min(m.vertices[:, 2].min() for i in plate.items for _, m in i.parts)
    assert low == pytest.approx(0.0, abs=1e-9)


def test_coils_stand_apart_by_the_gap_and_loops_keep_their_radius(spring):
    free = spring.model.geometry
    g = opened(spring.model, free, 0.4)
    near = body_approach(g.path)
    assert near is not None
    assert near.distance - g.wire_diameter >= 0.4 - 1e-9
    assert (g.first.loop_radius, g.second.loop_radius) == (
        free.first.loop_radius,
        free.second.loop_radius,
    )
    assert g.coil_radius == free.coil_radius
    assert g.angle == pytest.approx(free.angle, abs=1e-9) if free.angle is not None else True


def test_an_open_spring_stays_as_it_is():
    model = kept("damper-flap").model
    assert opened(model, model.geometry, 0.2) is model.geometry


def test_flats_lie_under_every_coil_and_face_down():
    model = kept("gate-latch").model
    plate = prototype(model, Options(flat=True))
    mesh = plate.items[0].parts[0][1]
    p = mesh.triangles
    down = np.cross(p[:, 1] - p[:, 0], p[:, 2] - p[:, 0])[:, 2] / 2
    on_bed = (p[:, :, 2] == 0).all(axis=1)
    assert down[on_bed].max() <= 1e-9
    assert -down[on_bed].sum() > 5  # mm²
    whole = prototype(model, Options()).prints[0].volume
    assert 0.97 * whole < plate.prints[0].volume < whole


def test_states_stand_side_by_side_and_are_named():
    spring = kept("gate-latch")
    state = spring.at(load=25.0)
    states = [
        NamedState(StateFacts("free"), spring.model.geometry),
        NamedState(StateFacts("25N", 25.0, state.length), state.geometry),
    ]
    plate = prototype(spring.model, Options(), states)
    assert [i.name for i in plate.items] == [
        "gate-latch-return-spring free",
        "gate-latch-return-spring 25N",
    ]
    first, second = (i.parts[0][1].vertices for i in plate.items)
    assert second[:, 1].min() > first[:, 1].max() + 5
    assert plate.prints[1].size[0] > plate.prints[0].size[0]


def test_a_dummy_has_named_parts_whose_hooks_start_inside_the_wall():
    model = kept("gate-latch").model
    parts = dict(prototype(model, Options(dummy=True)).items[0].parts)
    assert list(parts) == ["body", "first hook", "second hook"]
    body = parts["body"].vertices
    axis = (body.min(axis=0) + body.max(axis=0)) / 2
    radii = np.hypot(body[:, 1] - axis[1], body[:, 2] - axis[2])
    for name in ("first hook", "second hook"):
        hook = parts[name].vertices
        inside = (hook[:, 0] > body[:, 0].min()) & (hook[:, 0] < body[:, 0].max())
        reach = np.hypot(hook[:, 1] - axis[1], hook[:, 2] - axis[2])
        assert (inside & (reach > radii.min()) & (reach < radii.max())).any()


def test_thin_wire_is_found_with_what_to_change():
    model = kept("relay-armature").model
    found = prototype(model, Options()).findings
    thin = [f for f in found if f.code == "wire-too-thin-to-print"]
    assert len(thin) == 1
    assert "scale of at least 2.67" in thin[0].message
    fine = prototype(model, Options(scale=2.7)).findings
    assert not [f for f in fine if f.code == "wire-too-thin-to-print"]


def test_a_bed_that_is_too_small_is_found():
    spring = kept("gate-latch")
    states = [
        NamedState(StateFacts("free"), spring.model.geometry),
        NamedState(StateFacts("25N", 25.0), spring.at(load=25.0).geometry),
    ]

    def found(bed, states=()):
        plate = prototype(spring.model, Options(bed=bed), states)
        return plate, [f.code for f in plate.findings if f.field == "bed"]

    plate, none = found((220.0, 220.0), states)
    assert none == []
    x, y, _ = plate.box[1] - plate.box[0]
    assert found((x, y), states)[1] == found((y, x), states)[1] == []
    assert found((x, y - 0.1), states)[1] == ["plate-exceeds-bed"]
    one = found((200.0, 200.0))[0].prints[0].size
    plate, codes = found((0.8 * one[0], 200.0))
    assert codes == []  # it lies across
    plate, codes = found((0.8 * one[0], 0.5 * one[0]))
    assert codes == ["print-exceeds-bed"]
    said = [Shown("inch").text(f.message) for f in plate.findings if f.field == "bed"]
    assert " in and does not lie along the bed of " in said[0]
    assert "mm" not in said[0]


def test_the_scale_a_bed_asks_for_is_the_one_that_fits_it():
    model = kept("gate-latch").model
    plate = prototype(model, Options(dummy=True, bed=(30.0, 20.0)))
    (text,) = (f.message for f in plate.findings if f.field == "bed")
    scale = float(text.split("scale below ")[1].split(",")[0])
    small = prototype(model, Options(scale=scale - 0.01, dummy=True, bed=(30.0, 20.0)))
    assert not [f for f in small.findings if f.field == "bed"]
    assert small.prints[0].size[0] > 28


@pytest.mark.parametrize(
    "bad",
    [
        {"bed": (0.0, 220.0)},
        {"scale": 0.0},
        {"scale": float("nan")},
        {"nozzle": -1.0},
        {"gap": 1e9},
    ],
)
def test_bad_choices_are_refused(bad):
    with pytest.raises(SpecError, match="choose one that is"):
        Options(**bad)


def test_the_command_writes_a_plate_and_is_loud(tmp_path, capsys):
    out = tmp_path / "plate.3mf"
    command = ["prototype", "--preset", "gate-latch", "-o", str(out), "--state", "free"]
    assert run([*command, "--state", "25N", "--flat"]) == 0
    printed = capsys.readouterr().out
    assert "CARRIES NO LOAD" in printed.splitlines()[0]
    assert "volume" in printed
    first = out.read_bytes()
    with zipfile.ZipFile(out) as archive:
        model = archive.read("3D/3dmodel.model").decode()
        data = json.loads(archive.read("Metadata/springgeo-prototype.json"))
        assert "CARRIES NO LOAD" in data["caution"]
        assert json.loads(archive.read("Metadata/springgeo-summary.json"))["name"]
    assert 'name="Description">PROTOTYPE' in model
    assert 'name="gate-latch-return-spring 25N"' in model
    assert run([*command, "--state", "25N", "--flat"]) == 0
    assert out.read_bytes() == first
    capsys.readouterr()
    assert run(["inspect", str(out), "--strict"]) == 0
    assert "CARRIES NO LOAD" in capsys.readouterr().out


@pytest.mark.parametrize(
    "words",
    [["-o", "x.stl"], ["--nozzle", "1 N"], ["--scale", "x"], ["--gap", "-1"], ["--state", "5"]]
    + [["--bed", w] for w in ("220", "220x", "ax3", "1x2x3", "0x5", "nanx5", "5 N x 3")],
)
def test_bad_words_leave_nothing(tmp_path, capsys, monkeypatch, words):
    monkeypatch.chdir(tmp_path)
    assert run(["prototype", "--preset", "gate-latch", *words]) == 2
    assert capsys.readouterr().err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []
