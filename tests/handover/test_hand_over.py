"""The load curve as a table and as an element: against the curve and the two-pin mechanism."""

from __future__ import annotations

import csv
import io
import json
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from springgeo import Spring
from springgeo.cli.main import run
from springgeo.errors import FileError, SpecError
from springgeo.handover import ENDINGS, LoadTable
from springgeo.handover.modelica import package_name
from springgeo.handover.write import text_of
from tests.handover import mechanisms
from tests.mounted import aside, gate

# the share that a hand-over may be off by
BOUND = 0.005


@pytest.fixture(scope="module")
def spring():
    return mechanisms.spring()


@pytest.fixture(scope="module")
def files(spring, tmp_path_factory):
    folder = tmp_path_factory.mktemp("curve")
    table = LoadTable.of(spring.load_curve, 45.0)
    for ending in ENDINGS:
        (folder / f"c{ending}").write_text(text_of(ending, spring, table), "ascii")
    return folder


SMALL = {
    "name": "small spring",
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 3, "gap": 0.3},
    "ends": {"first": "machine-half-loop", "second": "machine-half-loop"},
}


def small():
    return Spring.from_dict(SMALL)


def read_csv(path):
    text = path.read_text("ascii")
    rows = list(csv.DictReader(io.StringIO(text.split("\n", 1)[1])))
    return text, {k: np.array([float(r[k]) for r in rows]) for k in rows[0]}


def test_straight_lines_between_the_points_are_the_curve(spring, files):
    text, table = read_csv(files / "c.csv")
    length, load = table["length_mm"], table["load_N"]
    assert text.startswith("# ")
    assert "Never make an extension spring the only support" in text.splitlines()[0]
    assert length[0] == pytest.approx(spring.free_length)
    assert load[0] == 0
    assert load[-1] == pytest.approx(45.0)
    assert (np.diff(length) > 0).all()
    assert (np.diff(load) > 0).all()
    # loads that are no points of the table
    for at in (0.3, 3.3, 6.1, 7.05, 8.4, 13.0, 21.7, 33.1):
        there = spring.load_curve.length(at)
        assert np.interp(there, length, load) == pytest.approx(at, rel=1.2e-3, abs=1e-3)
    exact = spring.load_curve.loads(length)[1]
    assert table["energy_N_mm"][-1] == pytest.approx(exact[-1], rel=1e-3)


def test_every_format_holds_the_same_points(files):
    _, table = read_csv(files / "c.csv")
    found = json.loads((files / "c.json").read_text())
    assert found["schema_version"] == "springgeo-load-curve/1"
    assert found["interpolation_error_percent"] <= 0.1
    load = np.array([p["load_N"] for p in found["points"]])
    assert np.allclose(load, table["load_N"], rtol=1e-8)
    # tendons side by side: each pulls with its stiffness beyond its own length
    tendons = ET.parse(files / "c.xml").getroot().findall("tendon/spatial")
    stiffness = np.array([float(t.get("stiffness")) for t in tendons])
    start = np.array([float(t.get("springlength").split()[1]) for t in tendons])
    length = np.array([p["length_mm"] for p in found["points"]]) / 1000
    pull = (stiffness * np.maximum(length[:, None] - start, 0.0)).sum(axis=1)
    assert np.allclose(pull, load, atol=1e-6 * load[-1])
    assert "package LeverSpring" in (files / "c.mo").read_text()


def test_the_same_bytes_whatever_was_asked_before(tmp_path):
    first, second = small(), small()
    second.load_curve.length(5.0)
    for name, spring in (("a.csv", first), ("b.csv", second)):
        spring.curve(tmp_path / name, load=12.0)
    assert (tmp_path / "a.csv").read_bytes() == (tmp_path / "b.csv").read_bytes()


def test_mujoco_turns_the_lever_as_the_mechanism_does(spring):
    pytest.importorskip("mujoco", reason="mujoco is not installed")
    torque, speed = mechanisms.compared_by_mujoco(spring)
    assert torque < BOUND
    assert speed < BOUND


def test_a_modelica_compiler_turns_the_lever_as_the_mechanism_does(spring):
    pytest.importorskip("rumoca", reason="rumoca is not installed")
    torque, speed = mechanisms.compared_by_rumoca(spring)
    assert torque < BOUND
    assert speed < BOUND


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--to", "free"], "--to: give a load"),
        (["--to", "12"], "has no unit"),
        (["--to", "0N"], "a table needs one"),
        (["--to", "1e9N"], "no state is found"),
        (["--pins", "5mm"], "is not two diameters"),
        (["--pins", "5mm,xx"], "--pins:"),
        (["--pins", "5mm,-1mm"], "from zero up"),
        (["-o", "c.txt"], "must end in"),
    ],
)
def test_what_cannot_be_is_one_line(tmp_path, monkeypatch, capsys, words, said):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "small.json").write_text(json.dumps(SMALL))
    assert run(["curve", "small.json", *words]) == 2
    err = capsys.readouterr().err.strip()
    assert err.count("\n") == 0
    assert said in err or "beyond" in err
    assert [p.name for p in tmp_path.iterdir()] == ["small.json"]


def test_the_command_writes_and_says_what(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "small.json").write_text(json.dumps(SMALL))
    words = ["curve", "small.json", "--to", "20N", "-o", "c.mo", "--pins", "5mm,6mm"]
    assert run(words) == 0
    out = capsys.readouterr().out
    assert "wrote c.mo" in out
    assert "Never make an extension spring" in out
    assert "between the middles of pins of 5 and 6 mm" in (tmp_path / "c.mo").read_text()


def test_other_endings_are_refused_and_names_of_packages_are_names(spring, tmp_path):
    with pytest.raises(FileError, match=r"must end in \.csv, \.json, \.xml or \.mo"):
        spring.curve(tmp_path / "c.txt")
    with pytest.raises(SpecError, match="give either"):
        spring.curve(tmp_path / "c.csv", load=3.0, length=4.0)
    assert package_name("gate-latch") == "GateLatch"
    assert package_name("7-up") == "Spring7Up"


@pytest.mark.parametrize("ending", [".csv", ".json", ".xml", ".mo"])
def test_a_curve_of_a_spring_mounted_out_of_line_says_that_it_is_the_straight_pull(ending):
    for made, says in ((aside({"loads": [25.0]}), True), (gate({"loads": [25.0]}), False)):
        table = LoadTable.of(made.load_curve, 25.0)
        # lines may be broken
        text = " ".join(text_of(ending, made, table).split())
        assert ("straight pull" in text) == says
