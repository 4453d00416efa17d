"""``--json``: the keys that programs rely on, and the values that follow from each other."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from springgeo.specification.load import presets

from .conftest import Command

pytestmark = pytest.mark.usefixtures("presets_kept")

GEOMETRY = {
    "wire_diameter",
    "mean_diameter",
    "index",
    "body_coils",
    "body_length",
    "hook_length_first",
    "hook_length_second",
    "free_length",
    "overall_length",
    "wire_length",
    "mass",
}
POINT = {
    "load",
    "length",
    "deflection",
    "body_shear",
    "hook_bending",
    "hook_torsion",
    "allowable",
    "margin",
}
STRESSES = {"body_shear", "hook_bending", "hook_torsion"}


def _summary(springgeo: Command, *args: str | Path) -> dict[str, Any]:
    result = springgeo("check", *args, "--json")
    assert result.code == 0, result.err
    data: dict[str, Any] = json.loads(result.out)
    return data


def test_documented_keys(springgeo: Command, spec_file: Path) -> None:
    s = _summary(springgeo, spec_file)
    assert s["schema_version"] == "springgeo-summary/1"
    assert s["geometry"].keys() >= GEOMETRY
    assert isinstance(s["rate"], float)
    tension = {"force", "stress", "preferred_low", "preferred_high"}
    assert s["initial_tension"].keys() >= tension
    assert len(s["points"]) == 2
    for point in s["points"]:
        assert point.keys() >= POINT
        assert set(point["allowable"]) == set(point["margin"]) == STRESSES
    for finding in s["findings"]:
        assert set(finding) == {"code", "severity", "field", "message", "topic", "room"}
        assert finding["severity"] in {"error", "warning", "note"}
    for check in s["checks"]:
        assert check["ok"] is True, check
    assert len(s["cautions"]) == 3


@pytest.mark.parametrize("name", presets())
def test_values_follow_from_each_other(springgeo: Command, name: str) -> None:
    s = _summary(springgeo, "--preset", name)
    g, tension = s["geometry"], s["initial_tension"]
    d, mean = g["wire_diameter"], g["mean_diameter"]
    assert g["index"] == pytest.approx(mean / d)
    assert g["outer_diameter"] - d == pytest.approx(mean)
    assert g["inner_diameter"] + d == pytest.approx(mean)
    inside = g["hook_length_first"] + g["body_length"] + g["hook_length_second"]
    assert g["free_length"] == pytest.approx(inside, rel=1e-12)
    assert g["body_length"] == pytest.approx(g["body_coils"] * g["pitch"] + d, rel=1e-12)
    # kg: the wire's volume times the density in g/cm³
    volume = math.pi / 4 * d**2 * g["wire_length"]
    assert g["mass"] == pytest.approx(1e-6 * volume * s["material"]["density"], rel=1e-9)
    # uncorrected shear stress of the initial tension (published: any textbook, 8 F D / π d³)
    stress = 8 * tension["force"] * mean / (math.pi * d**3)
    assert tension["stress"] == pytest.approx(stress, rel=1e-9)
    curve = {p["load"]: p["length"] for p in s["load_line"]["curve"]}
    for p, along in zip(s["points"], s["along_the_wire"]["points"], strict=True):
        assert p["length"] == curve[p["load"]] == along["length"]
        assert p["length"] == pytest.approx(g["free_length"] + p["deflection"], rel=1e-12)
        for place in STRESSES:
            if p[place] and p["allowable"][place]:
                margin = p["allowable"][place] / p[place]
                assert p["margin"][place] == pytest.approx(margin, rel=1e-9)


def test_json_is_plain_and_the_same_every_time(springgeo: Command, spec_file: Path) -> None:
    first, second = (springgeo("check", spec_file, "--json").out for _ in range(2))
    assert first == second
    assert first.isascii()
    assert "NaN" not in first
    assert "Infinity" not in first


def test_its_specification_gives_the_same_summary(springgeo: Command, spec_file: Path) -> None:
    first = _summary(springgeo, spec_file)
    again = spec_file.with_name("again.yaml")
    again.write_text(json.dumps(first["specification"]), encoding="utf-8")
    second = _summary(springgeo, again)
    # each holds the text of its own file
    assert second.pop("specification_text") == again.read_text(encoding="utf-8")
    assert first.pop("specification_text") == spec_file.read_text(encoding="utf-8")
    assert second == first


def test_ends_in_json(springgeo: Command) -> None:
    result = springgeo("ends", "--json")
    data = json.loads(result.out)
    assert result.code == 0
    assert data["schema_version"] == "springgeo-ends/1"
    names = [e["style"] for e in data["ends"]]
    assert names == sorted(names)
    for end in data["ends"]:
        assert end.keys() >= {"style", "title", "summary", "holds_load", "parameters"}
        assert end["parameters"]["type"] == "object"


def test_materials_in_json(springgeo: Command) -> None:
    result = springgeo("materials", "--diameter", "0.047 in", "--json")
    assert result.code == 0
    data = json.loads(result.out)
    wire = next(m for m in data["materials"] if m["id"] == "astm-a228")
    assert 1900 < wire["tensile_minimum"] < 2300
    assert wire["source"]
