"""The façade: what a script asks of a spring, and that it is what the commands answer."""

from __future__ import annotations

import csv
import inspect
import math
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import springgeo as sg
from springgeo.api import BuildOptions
from springgeo.cli.main import run
from springgeo.fit import EndMate, Mating, Pin, state_fit

SMALL = """
name: facade
wire: {material: astm-a228, diameter: 1 mm}
body: {mean_diameter: 8 mm, coils: 3, initial_tension: 5 N}
ends: {a: {style: machine-half-loop}, b: {style: machine-half-loop}}
service: {loads: [10 N, 20 N]}
mating: {a: {pin: {diameter: 5 mm, length: 20 mm}}}
"""


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("facade") / "facade.yaml"
    path.write_text(SMALL)
    return path


@pytest.fixture(scope="module")
def spring(file: Path) -> sg.Spring:
    return sg.Spring.from_file(file)


def test_formats_states_and_detail(spring: sg.Spring, tmp_path: Path) -> None:
    files = spring.export(
        tmp_path, formats=["stl", "obj"], states=["free", "20 N", spring.at(load=12)]
    )
    names = {
        f"facade-{state}.{kind}" for state in ("free", "20N", "12N") for kind in ("stl", "obj")
    }
    assert {f.name for f in files} == names | {"facade.json", "manifest.json"}
    assert {f.name for f in tmp_path.iterdir()} == {f.name for f in files}
    light = spring.export(tmp_path / "light", formats=["stl"], detail="light")
    assert light[0].name == "facade-light.stl"
    assert light[0].stat().st_size < (tmp_path / "facade-free.stl").stat().st_size / 2


def test_export_takes_what_build_takes(spring: sg.Spring, tmp_path: Path) -> None:
    taken = inspect.signature(sg.Spring.build).parameters
    assert {*BuildOptions.__annotations__, "self", "folder", "told"} == set(taken)
    with pytest.raises(TypeError, match="format"):
        spring.export(tmp_path, format=["stl"])  # type: ignore[call-arg]
    assert not any(tmp_path.iterdir())


def test_a_state_exports_itself_as_the_spring_would(spring: sg.Spring, tmp_path: Path) -> None:
    state = spring.at(load=20).called("20N")
    own = state.export(tmp_path / "own", formats=["stl"])
    asked = spring.export(tmp_path / "asked", formats=["stl"], states=["20N"])
    assert [f.read_bytes() for f in own] == [f.read_bytes() for f in asked]


def test_states_are_told_apart_by_name(spring: sg.Spring) -> None:
    free, loaded, long = spring.named_states(["free", "20 N", "30mm"])
    assert (free.name, loaded.name, long.name) == ("free", "20N", "30mm")
    assert free.load == 0
    assert loaded.load == 20
    assert long.length == pytest.approx(30)
    assert spring.at(load=12.5).name == "12.5N"
    with pytest.raises(sg.SpecError, match="given twice"):
        spring.named_states(["20N", spring.at(load=20)])
    with pytest.raises(sg.SpecError, match="no unit"):
        spring.export("nowhere", states=["20"])
    assert not Path("nowhere").exists()


def test_stress_is_a_table_of_its_own_type(spring: sg.Spring) -> None:
    along = spring.stress(20)
    assert isinstance(along, sg.StressProfile)
    assert all(column.shape == along.s.shape for column in along.columns().values())
    state = spring.at(load=20).stress()
    assert all(
        np.array_equal(x, y)
        for x, y in zip(along.columns().values(), state.columns().values(), strict=True)
    )
    # statics, whatever the shape of the hooks (common practice): in mid-body the moment about the
    # axis of pull is F R, most of it torque
    middle = np.argmin(np.abs(along.s - spring.centreline.length / 2))
    assert abs(along.T[middle]) == pytest.approx(20 * 4, rel=0.03)
    # greatest shear stress of the surface: half of Tresca's, at most von Mises over the root of 3
    # and at least half of it (von Mises' and Tresca's conditions)
    ratio = along.von_mises / along.max_shear
    assert ratio.min() > math.sqrt(3) * 0.999
    assert ratio.max() < 2.001


def test_stress_is_what_the_command_writes(spring: sg.Spring, file: Path, tmp_path: Path) -> None:
    out = tmp_path / "stress.csv"
    assert run(["stress", str(file), "--load", "20N", "-o", str(out)]) == 0
    with out.open() as lines:
        next(lines)
        rows = list(csv.DictReader(lines))
    along = spring.stress(20)
    assert list(rows[0]) == list(along.columns())
    written = [float(row["von_mises"]) for row in rows]
    assert written == pytest.approx(along.von_mises.tolist(), rel=1e-8)


def test_a_state_fits_its_own_parts_or_others(spring: sg.Spring) -> None:
    state = spring.at(load=20)
    own = state.fit()
    assert own.stop == "20N"
    assert own == state_fit(state, spring.spec.mating, "20N")
    assert own.first is not None
    loose = state.fit(Mating(first=EndMate(pin=Pin(diameter=4, length=20))))
    assert loose.first is not None
    assert loose.first.side_room == own.first.side_room
    assert loose.first.seat[2] == pytest.approx(own.first.seat[2] - 0.5, abs=0.05)
    alone = spring.with_(mating=None)
    with pytest.raises(sg.SpecError, match="nothing to fit"):
        alone.at(load=20).fit()


@pytest.mark.parametrize(
    ("verb", "name", "options", "given"),
    [
        ("making", "making.csv", ["--tolerance", "0.1"], {"tolerance": 0.1}),
        ("making", "making.json", ["--paper", "Letter"], {"paper": "Letter"}),
        (
            "draw",
            "sheet.svg",
            ["--language", "de", "--both-units"],
            {"language": "de", "both_units": True},
        ),
    ],
)
def test_methods_write_what_commands_write(
    spring: sg.Spring,
    file: Path,
    tmp_path: Path,
    verb: str,
    name: str,
    options: list[str],
    given: dict[str, object],
) -> None:
    if verb == "draw":
        pytest.importorskip("matplotlib")
        pytest.importorskip("shapely")
    assert run([verb, str(file), "-o", str(tmp_path / name), *options]) == 0
    written = {f.name: f.read_bytes() for f in tmp_path.iterdir()}
    own = tmp_path / "own"
    own.mkdir()
    files = getattr(spring, verb)(own / name, **given)
    assert {f.name: f.read_bytes() for f in files} == written


def test_a_page_is_the_command_s(spring: sg.Spring, file: Path, tmp_path: Path) -> None:
    assert run(["report", str(file), "-o", str(tmp_path / "a.html"), "--units", "inch"]) == 0
    page = spring.report(tmp_path / "b.html", units="inch")
    assert page.read_bytes() == (tmp_path / "a.html").read_bytes()


@pytest.mark.parametrize("verb", ["draw", "making"])
def test_a_name_that_says_no_format(spring: sg.Spring, tmp_path: Path, verb: str) -> None:
    with pytest.raises(sg.FileError, match=r"must end in \.pdf"):
        getattr(spring, verb)(tmp_path / "sheet.doc")
    assert not any(tmp_path.iterdir())


def test_upper_rooms_are_loaded_when_they_are_asked_for(file: Path) -> None:
    code = f"""
import sys
import springgeo as sg
sg.Spring.from_file({str(file)!r}).summary()
found = [m for m in ("report", "drawing", "files.step", "files.publish.bundle", "cad")
         if "springgeo." + m in sys.modules]
assert not found, found
for heavy in ("OCP", "cadquery", "matplotlib", "jinja2", "shapely", "ezdxf"):
    assert heavy not in sys.modules, heavy
"""
    subprocess.run([sys.executable, "-c", code], check=True)
