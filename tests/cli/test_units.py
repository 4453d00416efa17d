"""--units inch: tables convert back to JSON within their digits, and hold no metric unit."""

from __future__ import annotations

import itertools
import json
import re
from pathlib import Path

import pytest

from springgeo import materials
from springgeo.cli.main import run
from springgeo.specification.load import presets

pytestmark = pytest.mark.usefixtures("presets_kept", "files_kept")

# what one unit is in mm, N, MPa: NIST SP 811 (2008), appendix B.8, from memory
SI = {"in": 25.4, "lbf": 4.4482216, "lbf/in": 0.17512684, "ksi": 6.8947573, "oz": 0.028349523}
METRIC = re.compile(r"(?<![\w/.])(mm|N|MPa|N/mm|degC|g|cm3|g/cm3)(?![\w/])")
FACTS = {
    "wire diameter d": "geometry.wire_diameter",
    "mean diameter D": "geometry.mean_diameter",
    "body length": "geometry.body_length",
    "free length inside hooks": "geometry.free_length",
    "wire length": "geometry.wire_length",
    "mass": "geometry.mass",
    "rate, handbook": "rate",
    "rate, small load": "rates.small_load",
    "initial tension": "initial_tension.force",
    "tensile strength, minimum": "material.tensile_strength",
}


def said(capsys: pytest.CaptureFixture[str], *args: str) -> str:
    capsys.readouterr()
    run(list(args))
    out = capsys.readouterr()
    return out.out + out.err


def near(text: str, exact: float) -> bool:
    """Return whether a number as printed is the exact one within its last digit."""
    return abs(float(text) - exact) <= 0.51 * 10.0 ** -len(text.partition(".")[2])


def clean(text: str) -> str:
    """Return a text without what it quotes: sources, and what a bare number would be."""
    limit = materials.get("astm-a228").data.temperature_limit_degC
    assert limit is not None
    text = text.replace(limit.source, "")
    return re.sub(r"\(Shigley[^)]*\)|bare number.*", "", text)


@pytest.mark.parametrize("name", sorted(presets()))
def test_check_converts_back(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    summary = json.loads(said(capsys, "check", "--preset", name, "--json", "--units", "inch"))
    assert summary["units"].startswith("mm, N, MPa")
    text = said(capsys, "check", "--preset", name, "--units", "inch")
    assert METRIC.findall(clean(text)) == []
    found = dict.fromkeys(FACTS, False)
    for line in text.splitlines():
        match = re.fullmatch(r"  (.+?)\s{2,}(\S+)\s+(\S+)", line)
        if match and match[1] in FACTS:
            value = summary
            for key in FACTS[match[1]].split("."):
                value = value[key]
            assert near(match[2], value / SI[match[3]]), line
            found[match[1]] = True
    assert all(found.values())
    rows = [x.split() for x in text.splitlines() if re.match(r"  (handbook|along the wire)  ", x)]
    ways = {"handbook": summary["points"], "along": summary["along_the_wire"]["points"]}
    for i, row in enumerate(rows):
        point, cells = ways[row[0]][i // 2], [c for c in row if re.fullmatch(r"[\d.]+|-", c)]
        for cell, key, unit in zip(
            (cells[0], cells[1], cells[2], cells[4], cells[6]),
            ("load", "length", "body_shear", "hook_bending", "hook_torsion"),
            ("lbf", "in", "ksi", "ksi", "ksi"),
            strict=True,
        ):
            assert (cell == "-") if point[key] is None else near(cell, point[key] / SI[unit])


CHANGES = (
    "service: {loads: [0.1 N, 900 N], temperature: 150 degC, forcing_frequency: 900 Hz}",
    "service: {loads: [40 N], duty: cyclic, cycles: 1e6, temperature: 400 degC}",
    "service: {lengths: [2 mm]}",
)
STYLES = ("full-twisted-loop", "threaded-plug", "long-square-end-hook")
# what no wire bears is refused in the same words whatever its ends
CASES = [*itertools.product(STYLES, CHANGES), (STYLES[0], "service: {loads: [4000 N]}")]


@pytest.mark.parametrize(("style", "service"), CASES)
def test_findings_and_refusals_are_in_the_units_of_the_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], service: str, style: str
) -> None:
    spec = tmp_path / "spring.yaml"
    spec.write_text(
        "units: inch\nwire: {material: astm-a228, diameter: 0.05 in}\n"
        "body: {mean_diameter: 0.4 in, coils: 14, initial_tension: 3 lbf}\n"
        f"ends: {{a: {style}, b: {{style: machine-half-loop, bend_radius: 0.06 in}}}}\n"
        "mating: {b: {pin: {diameter: 0.5 in, length: 0.1 in}}, "
        f"around: {{bore: {{diameter: 0.3 in}}}}}}\n{service}\n",
        encoding="utf-8",
    )
    for command in ("check", "fit"):
        text = said(capsys, command, str(spec))
        assert text
        assert METRIC.findall(clean(text)) == [], text
        metric = said(capsys, command, str(spec), "--units", "mm")
        assert not re.search(r"\d (in|lbf|ksi)\b", metric), metric


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("ends.first.bend_radius", "9 in"),
        ("wire.diameter", "3 in"),
        ("body.initial_tension", "1e9 lbf"),
        ("ends.first.opening", "1e-5 in"),
    ],
)
def test_a_refused_file_is_answered_in_its_units(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], key: str, value: str
) -> None:
    end = (
        f"{{style: machine-half-loop, {key.rpartition('.')[2]}: {value}}}"
        if "ends" in key
        else "plain"
    )
    wire = value if key == "wire.diameter" else "0.05 in"
    tension = f", initial_tension: {value}" if "tension" in key else ""
    spec = tmp_path / "spring.yaml"
    spec.write_text(
        f"units: inch\nwire: {{material: astm-a228, diameter: {wire}}}\n"
        f"body: {{index: 8, coils: 14{tension}}}\nends: {{a: {end}, b: plain}}\n",
        encoding="utf-8",
    )
    capsys.readouterr()
    assert run(["check", str(spec)]) == 2
    text = capsys.readouterr().err
    assert METRIC.findall(text) == [], text
    assert re.search(r"\d (in|lbf)\b", text), text


def test_measure_size_materials_and_ends(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for kind in ("job", "readings"):
        assert run(["new", "--for", kind]) == 0
    measured = json.loads(said(capsys, "measure", "readings.yaml", "--json", "--units", "inch"))
    assert measured["units"] == "mm, N, MPa, N/mm"
    text = said(capsys, "measure", "readings.yaml", "--units", "inch")
    assert METRIC.findall(text) == [], text
    row = next(x.split() for x in text.splitlines() if "initial tension" in x)
    assert near(row[-3], measured["initial_tension"]["value"] / SI["lbf"])
    text = said(capsys, "size", "job.yaml", "--top", "2", "--units", "inch")
    assert METRIC.findall(clean(text)) == [], text
    chosen = json.loads(Path("springgeo-sizes/sizing.json").read_text(encoding="utf-8"))
    assert chosen["units"].startswith("mm, N")
    head, first = (x for x in text.splitlines() if re.match(r"  (\s+wire in|1 )", x))
    assert "OD in" in head
    diameter = chosen["choices"][0]["specification"]["wire"]["diameter"]
    assert near(first.split()[3], diameter / SI["in"])
    picture = Path("springgeo-sizes/front.svg").read_text(encoding="utf-8")
    assert METRIC.findall(" ".join(re.findall(">([^<]+)<", picture))) == []
    assert "mass (less is better), oz" in picture
    assert run(["check", "springgeo-sizes/choice-1.yaml"]) == 0
    assert "lbf/in" in capsys.readouterr().out
    text = said(capsys, "materials", "--diameter", "1mm", "--units", "inch")
    assert METRIC.findall(text.splitlines()[0]) == []
    assert run(["new", "spring.yaml"]) == 0
    text = said(capsys, "ends", "--compare", "spring.yaml", "--units", "inch")
    assert METRIC.findall(text.partition("does not fit")[0]) == [], text


def test_nothing_asked_of_one_answer_is_left_for_the_next(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert "lbf" in said(capsys, "check", "--preset", "gate-latch", "--units", "inch")
    assert "lbf" not in said(capsys, "check", "--preset", "gate-latch")
