"""The command: a file in, a specification, a picture and a report out, or one line of refusal."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pytest
import trimesh
import yaml

import springgeo as sg
from springgeo.cli.main import run

SPEC = {
    "wire": {"material": "astm-a228", "diameter": 1.0},
    "body": {"mean_diameter": 8.0, "coils": 4.4},
    # away from the least lengths that the radii allow: at a limit a fit takes longer
    "ends": {
        "first": {"style": "machine-half-loop", "bend_radius": 1.5, "hook_length": 7.5},
        "second": {"style": "raised-hook", "bend_radius": 1.5, "hook_length": 9.0},
    },
}


@pytest.fixture(scope="module")
def part(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("part") / "part.csv"
    mesh = sg.Spring.from_dict(SPEC).mesh().trimesh()
    points, _ = trimesh.sample.sample_surface(mesh, 3_000, seed=3)
    rows = "\n".join(";".join(f"{x:.4f}".replace(".", ",") for x in p) for p in points)
    path.write_text(f"X [mm];Y [mm];Z [mm]\n{rows}\nend of scan\n", encoding="utf-8")
    return path


def test_it_writes_what_it_found(
    part: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With readings beside: loads of its own curve, wound with 5 N of tension."""
    spring = sg.Spring.from_dict(SPEC).with_(body__initial_tension=5.0)
    lengths = spring.free_length + np.array([4.0, 7.0, 10.0, 13.0])
    pulls = [{"length": x, "load": spring.load_curve.load(x)} for x in lengths.tolist()]
    readings = tmp_path / "pulls.yaml"
    readings.write_text(yaml.safe_dump({"pulls": pulls}), encoding="utf-8")
    out, picture = tmp_path / "spec.yaml", tmp_path / "off.svg"
    words = ["recover", str(part), "-o", str(out), "--picture", str(picture)]
    assert run([*words, "--readings", str(readings), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["schema_version"] == "springgeo-recovered/1"
    assert answer["values"]["wire_diameter"]["value"] == pytest.approx(1.0, rel=0.01)
    assert answer["values"]["mean_diameter"]["value"] == pytest.approx(8.0, rel=0.003)
    assert {answer["ends"][s]["style"] for s in ("first", "second")} == {
        "machine-half-loop",
        "raised-hook",
    }
    codes = {f["code"] for f in answer["findings"]}
    assert {"unit-guessed", "lines-left-out", "material-by-elimination"} <= codes
    again = sg.Spring.from_file(out)
    assert again.free_length == pytest.approx(spring.free_length, rel=0.01)
    assert again.summary().initial_tension.force == pytest.approx(5.0, abs=0.3)
    ET.parse(picture)


def test_refusals_are_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "part.stl"
    folder.mkdir()
    noise = tmp_path / "noise.xyz"
    rng = np.random.default_rng(0)
    np.savetxt(noise, rng.normal(size=(400, 3)))
    empty = tmp_path / "empty.csv"
    empty.write_text("", encoding="utf-8")
    for path in (folder, noise, empty, tmp_path / "missing.obj", tmp_path / "spec.yaml"):
        assert run(["recover", str(path)]) == 2
        said = capsys.readouterr()
        assert said.out == ""
        assert said.err.count("\n") == 1, said.err
        assert said.err.startswith("springgeo: ")
        # enough points to be looked at
        assert ("[no-coils]" in said.err) == (path == noise)
