"""The assembly as STEP, read back by the kernel's exchange reader: names, solids, mates, bytes."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import cadquery as cq
import pytest

from springgeo import Spring, cad
from springgeo.cad.parts import placed_parts
from springgeo.cli.main import run
from springgeo.colours import SOLIDS
from springgeo.errors import BuildError, FileError
from springgeo.files.step.read import read_step
from springgeo.fit import Mating
from springgeo.fit.seat import end_frame
from springgeo.solid import is_valid, solids, volume
from springgeo.state import State

from .xcaf import Component, read_parts


@pytest.fixture(scope="module")
def state(short: Spring) -> State:
    return short.at(length=1.2 * short.free_length)


@pytest.fixture(scope="module")
def file(
    short: Spring, state: State, everything: Mating, tmp_path_factory: pytest.TempPathFactory
) -> Path:
    return cad.write_assembly(
        tmp_path_factory.mktemp("assembly") / "all.step", short, state, everything
    )


@pytest.fixture(scope="module")
def parts(file: Path) -> list[Component]:
    name, found = read_parts(file)
    assert name == "bracket return"
    return found


def test_every_part_has_its_name(parts: list[Component]) -> None:
    assert [p.name for p in parts] == ["spring", "stud_first", "plate_second", "rod", "bore"]


def test_every_part_is_one_valid_solid_of_its_volume(
    parts: list[Component], state: State, everything: Mating
) -> None:
    for seen, wanted in zip(parts, placed_parts(state, everything), strict=True):
        (solid,) = solids(seen.shape)
        assert is_valid(solid)
        assert volume(solid) == pytest.approx(volume(wanted.in_place.wrapped), rel=1e-8)
        centre, there = cq.Shape.cast(solid).Center(), wanted.in_place.Center()
        assert (centre - there).Length < 1e-6


def test_every_part_has_its_colour(parts: list[Component]) -> None:
    for seen in parts:
        assert seen.colour == pytest.approx(SOLIDS[seen.name.split("_")[0]], abs=1e-6)


def test_mate_frames_stand_beside_the_geometry(file: Path, state: State) -> None:
    text = re.sub(r"\s+", "", file.read_text())
    assert "CONSTRUCTIVE_GEOMETRY_REPRESENTATION('supplementalgeometry'" in text
    for name, place in cad.frames(state).items():
        found = re.search(rf"AXIS2_PLACEMENT_3D\('{name}',#(\d+),#(\d+),#(\d+)\)", text)
        assert found is not None
        origin, z, x = (_triple(text, number) for number in found.groups())
        plane = cq.Plane(place)
        assert origin == pytest.approx(plane.origin.toTuple(), abs=1e-12)
        assert z == pytest.approx(plane.zDir.toTuple(), abs=1e-12)
        assert x == pytest.approx(plane.xDir.toTuple(), abs=1e-12)


def _triple(text: str, number: str) -> list[float]:
    found = re.search(rf"#{number}=\w+\('',\(([^)]+)\)\)", text)
    assert found is not None
    return [float(x) for x in found[1].split(",")]


def test_the_attribute_says_what_is_inside(file: Path, state: State) -> None:
    facts = json.loads(str(read_step(file).attributes["springgeo-assembly"].value))
    assert facts["length"] == state.length
    assert facts["load"] == state.load
    assert list(facts["parts"]) == ["spring", "stud_first", "plate_second", "rod", "bore"]
    frame = end_frame(state.geometry, "second")
    assert facts["frames"]["second_end"]["origin"] == pytest.approx(frame.origin.tolist(), abs=1e-9)
    assert frame.origin[2] == pytest.approx(state.length, abs=0.02)
    text = file.read_text()
    assert "AP242" in text
    assert ".MILLI.,.METRE." in text


def test_same_input_same_bytes(
    file: Path, short: Spring, state: State, everything: Mating, tmp_path: Path
) -> None:
    again = cad.write_assembly(tmp_path / "all.step", short, state, everything)
    assert again.read_bytes() == file.read_bytes()
    code = (
        "import sys; from springgeo import Spring, cad\n"
        "cad.write_assembly(sys.argv[1], Spring.from_preset('gate-latch'))"
    )
    other, here = tmp_path / "other.step", tmp_path / "here.step"
    subprocess.run([sys.executable, "-c", code, str(other)], check=True)
    cad.write_assembly(here, Spring.from_preset("gate-latch"))
    assert other.read_bytes() == here.read_bytes()


def test_further_solids_come_along(short: Spring, tmp_path: Path) -> None:
    wall = cq.Workplane().box(20, 2, 20).translate((0, 9, 10)).val()
    _, found = read_parts(cad.write_assembly(tmp_path / "w.step", short, solids={"wall": wall}))
    assert [p.name for p in found] == ["spring", "wall"]
    assert volume(found[1].shape) == pytest.approx(800.0)


def test_what_cannot_be_written_is_refused(short: Spring, tmp_path: Path) -> None:
    box = cq.Workplane().box(1, 1, 1).val()
    target = tmp_path / "x.step"
    with pytest.raises(BuildError, match="two parts are called 'spring'"):
        cad.write_assembly(target, short, solids={"spring": box})
    with pytest.raises(BuildError, match="not one solid"):
        cad.write_assembly(target, short, solids={"sheet": box.Faces()[0]})
    with pytest.raises(FileError, match="no such"):
        cad.write_assembly(tmp_path / "no" / "x.step", short)
    assert not list(tmp_path.iterdir())


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "gate.step"
    words = ["assembly", "--preset", "gate-latch", "-o", str(target)]
    assert run([*words, "--state", "free", "--state", "25N"]) == 0
    assert "mm inside hooks" in capsys.readouterr().out
    names = sorted(p.name for p in tmp_path.iterdir())
    assert names == ["gate-25N.step", "gate-free.step"]
    assert [p.name for p in read_parts(tmp_path / names[0])[1]] == [
        "spring",
        "pin_first",
        "pin_second",
    ]
    assert run([*words, "--state", "25"]) == 2
    assert "no unit" in capsys.readouterr().err
    assert run([*words[:-1], str(tmp_path / "gate.stl")]) == 2
    assert "must end in .step" in capsys.readouterr().err
