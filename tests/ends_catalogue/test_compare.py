"""``springgeo ends --compare``: every style on one body, or the reason why not."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from springgeo.cli.main import run
from springgeo.ends import registry

SPEC = """\
name: compared
wire: {material: astm-a228, diameter: 1.2 mm}
body: {mean_diameter: DIAMETER mm, coils: 18.5}
ends:
  a: {style: full-twisted-loop}
  b: {style: machine-half-loop}
  angle: 30 deg
"""


@pytest.fixture
def wide(tmp_path: Path) -> Path:
    file = tmp_path / "wide.yaml"
    file.write_text(SPEC.replace("DIAMETER", "9.6"), encoding="utf-8")
    return file


@pytest.fixture
def narrow(tmp_path: Path) -> Path:
    file = tmp_path / "narrow.yaml"
    text = SPEC.replace("DIAMETER", "4.2").replace("full-twisted", "machine-half")
    file.write_text(text, encoding="utf-8")
    return file


HOOKS = {s.name for s in registry.styles().values() if s.name != "plain" and s.offered}


def test_table_names_every_style(wide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["ends", "--compare", str(wide)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert {line.split()[0] for line in lines} >= HOOKS


def test_numbers(wide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["ends", "--json", "--compare", str(wide)]) == 0
    ends = {e["style"]: e for e in json.loads(capsys.readouterr().out)["ends"]}
    assert set(ends) == HOOKS
    assert not any(e["problem"] for e in ends.values())
    full, small = ends["full-twisted-loop"], ends["small-eye-over-centre"]
    assert full["hook_length"] == pytest.approx(8.4)  # the inside diameter
    assert small["bending_a"] < full["bending_a"]
    # a pull beside the axis is paid for by the body
    assert ends["full-loop-at-side"]["von_mises"] > 1.1 * full["von_mises"]
    assert ends["full-loop-at-side"]["governing"] == "body_shear"
    # reduced coils: less stress in the hook, so more load
    assert ends["reduced-full-loop"]["margin_per_newton"] > full["margin_per_newton"]
    # a swivel bends no hook: the body decides, and gives all of the deflection
    swivel = ends["coned-swivel-eye"]
    assert swivel["needs"] == "swivel"
    assert swivel["bending_a"] is swivel["shear_b"] is None
    assert swivel["governing"] == "body_shear"
    assert swivel["margin_per_newton"] > ends["reduced-full-loop"]["margin_per_newton"]
    assert swivel["compliance_share_percent"] == pytest.approx(0.0, abs=1e-9)


def test_what_does_not_fit_says_why(narrow: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["ends", "--json", "--compare", str(narrow)]) == 0
    ends = json.loads(capsys.readouterr().out)["ends"]
    out = {e["style"]: e["problem"] for e in ends if e["problem"]}
    assert out
    assert all(e["bending_a"] is None for e in ends if e["problem"])
    assert all(";" in problem for problem in out.values()), "no advice"
    assert run(["ends", "--compare", str(narrow)]) == 0
    text = capsys.readouterr().out
    assert all(f"{name} does not fit: " in text for name in out)


def test_usual_hook_lengths_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["ends", "--json"]) == 0
    ends = {e["style"]: e for e in json.loads(capsys.readouterr().out)["ends"]}
    assert ends["full-twisted-loop"]["usual_hook_length"]["low"] == 0.8
    assert ends["plain"]["usual_hook_length"] is None
    assert run(["ends"]) == 0
    assert "usual hook length: 0.55 to 0.8 inside diameters" in capsys.readouterr().out


def test_a_missing_file_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["ends", "--compare", "nowhere.yaml"]) == 2
    assert capsys.readouterr().err.count("\n") == 1
