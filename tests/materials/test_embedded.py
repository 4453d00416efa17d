"""A user's own material travels by its content: no path in results, and rebuilt anywhere."""

from __future__ import annotations

import json
import shutil
from importlib.resources import files
from pathlib import Path

import pytest
import yaml

from springgeo import Spring, materials
from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.measure import measure, read_readings
from springgeo.sizing import job_of, read_job, size

TEXT = files("springgeo.materials").joinpath("data", "astm-a228.yaml").read_text("utf-8")
SPEC = {
    "name": "own wire",
    "wire": {"material": "mine.yaml", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 12},
    "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "machine-half-loop"}},
    "service": {"loads": [10, 20]},
}


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """Return a folder with a material of its own and a specification that names it."""
    folder = tmp_path / "secret-folder"
    folder.mkdir()
    (folder / "mine.yaml").write_text(TEXT.replace("id: astm-a228", "id: mine"))
    (folder / "spec.yaml").write_text(json.dumps(SPEC))
    return folder


@pytest.mark.parametrize("name", materials.names())
def test_content_is_the_same_material(name: str) -> None:
    known = materials.get(name)
    again = json.loads(json.dumps(known.content))
    assert materials.get(again) == known
    assert yaml.safe_load(yaml.safe_dump(known.content)) == again


def test_a_material_without_strength_table_keeps_its_empty_block() -> None:
    lines = TEXT.splitlines()
    start = lines.index("tensile:")
    end = next(i for i, x in enumerate(lines) if x.startswith("tensile_laws"))
    data = yaml.safe_load("\n".join([*lines[:start], "tensile: null", *lines[end:]]))
    wire = {"material": data, "diameter": 1.2, "tensile_strength": 1900}
    spring = Spring.from_dict(SPEC | {"wire": wire})
    stored = json.loads(spring.summary().json_text())["specification"]
    assert stored["wire"]["material"]["tensile"] is None
    assert Spring.from_dict(stored).summary() == spring.summary()


def test_the_same_wherever_the_file_lies(place: Path, tmp_path: Path) -> None:
    other = tmp_path / "elsewhere"
    shutil.copytree(place, other)
    texts = {Spring.from_file(f / "spec.yaml").summary().json_text() for f in (place, other)}
    inline = SPEC | {"wire": {"material": yaml.safe_load((place / "mine.yaml").read_text())}}
    inline["wire"] = inline["wire"] | {"diameter": 1.2}  # type: ignore[operator]
    texts.add(Spring.from_dict(inline).summary().json_text())
    by_path = SPEC | {"wire": {"material": str(place / "mine.yaml"), "diameter": 1.2}}
    texts.add(Spring.from_dict(by_path).summary().json_text())
    assert len(texts) == 1
    (text,) = texts
    assert "secret-folder" not in text
    assert "mine.yaml" not in text


def test_inspect_rebuilds_without_the_file(
    place: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    assert run(["build", str(place / "spec.yaml"), "-o", str(out), "--format", "stl"]) == 0
    assert run(["report", str(place / "spec.yaml"), "-o", str(out / "r.html")]) == 0
    shutil.rmtree(place)
    for path in out.iterdir():
        assert b"secret-folder" not in path.read_bytes()
    capsys.readouterr()
    assert run(["inspect", str(out / "own-wire.stl")]) == 0
    assert "DOES NOT MATCH" not in capsys.readouterr().out


def test_a_bad_inline_material_says_where() -> None:
    content = materials.get("astm-a228").content | {"family": "wood"}
    with pytest.raises(SpecError, match="given inline: family: Input should be"):
        Spring.from_dict(SPEC | {"wire": {"material": content, "diameter": 1.2}})


def test_a_job_with_an_own_material(place: Path) -> None:
    job = {
        "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
        "choice": {"materials": ["mine.yaml"], "series": ["en-iso"], "ends": ["raised-hook"]},
    }
    (place / "job.yaml").write_text(json.dumps(job))
    found = read_job(place / "job.yaml")
    shutil.rmtree(place)
    (winner, *_) = size(found, 1).winners
    assert winner.summary.material.id == "mine"
    assert Spring.from_dict(winner.specification).summary().material.id == "mine"
    with pytest.raises(SpecError, match="material-twice"):
        job_of(job | {"choice": {"materials": [TWICE, "astm-a228"]}})


TWICE = materials.get("astm-a228").content


def test_readings_with_an_own_material(place: Path) -> None:
    spring = Spring.from_file(place / "spec.yaml")
    line = spring.load_curve
    lengths = [spring.free_length + x for x in (4, 6, 8, 10)]
    readings = {
        "wire_diameter": 1.2,
        "outer_diameter": 10.8,
        "coils": spring.summary().geometry.body_coils,
        "free_length": spring.free_length,
        "pulls": [{"length": x, "load": line.load(x)} for x in lengths],
        "hooks": [SPEC["ends"]["first"], SPEC["ends"]["second"]],  # type: ignore[index]
        "material": "mine.yaml",
    }
    (place / "readings.yaml").write_text(json.dumps(readings))
    found = read_readings(place / "readings.yaml")
    shutil.rmtree(place)
    assert measure(found).specification["wire"]["material"]["id"] == "mine"
