"""A style written outside the package is a first-class citizen; a broken one harms nobody."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent / "package"
SPEC = """
name: crook example
wire: {material: astm-a228, diameter: 1 mm}
body: {index: 8, coils: 12, initial_tension: 4 N}
ends: {a: {style: crook, reach: 14 mm}, b: {style: machine-half-loop}}
service: {loads: [10 N]}
"""


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Install the package into a folder of its own, as a user would into an environment."""
    target = tmp_path_factory.mktemp("site")
    subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "install",
            "-q",
            "--no-deps",
            "--no-build-isolation",
            "--disable-pip-version-check",
            "--target",
            str(target),
            str(PACKAGE),
        ],
        check=True,
        capture_output=True,
    )
    return target


def springgeo(site: Path, *args: str) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, "PYTHONPATH": str(site)}
    return subprocess.run(
        [sys.executable, "-m", "springgeo", *args],
        env=env,
        text=True,
        capture_output=True,
        check=False,
    )


@pytest.fixture
def spec(tmp_path: Path) -> Path:
    file = tmp_path / "spec.yaml"
    file.write_text(SPEC)
    return file


def test_it_is_listed_and_the_broken_ones_are_named(site: Path) -> None:
    done = springgeo(site, "ends", "--json")
    answer = json.loads(done.stdout)
    names = [e["style"] for e in answer["ends"]]
    assert "crook" in names
    assert names.count("plain") == 1
    assert not {"crook-that-raises", "crook-of-wrong-type", "crook-by-another-name"} & set(names)
    reports = " ".join(f["message"] for f in answer["findings"])
    for name, reason in (
        ("crook-that-raises", "the workshop is closed"),
        ("crook-of-wrong-type", "not an EndStyle"),
        ("crook-by-another-name", "its name is 'crook'"),
        ("'plain'", "already has this name"),
    ):
        assert name in reports
        assert reason in reports
    plain = next(e for e in answer["ends"] if e["style"] == "plain")
    assert plain["title"] == "plain end"


def test_it_is_in_the_schema(site: Path) -> None:
    schema = json.loads(springgeo(site, "schema").stdout)
    choices = [s for s in schema["$defs"]["EndChoice"]["oneOf"] if "properties" in s]
    styles = {s["properties"]["style"]["const"]: s for s in choices}
    assert "reach" in styles["crook"]["properties"]


def test_it_gets_its_stress_and_checks(site: Path, spec: Path) -> None:
    summary = json.loads(springgeo(site, "check", str(spec), "--json").stdout)
    assert summary["geometry"]["hook_length_first"] == pytest.approx(14, rel=1e-12)
    assert all(c["ok"] for c in summary["checks"])
    labels = {p["label"] for p in summary["along_the_wire"]["peaks"]}
    assert any(label.startswith("first.") for label in labels)
    assert "hook-distance" in {c["name"] for c in summary["checks"]}


def test_it_is_compared_and_its_typing_errors_are_answered(site: Path, spec: Path) -> None:
    compared = json.loads(springgeo(site, "ends", "--compare", str(spec), "--json").stdout)
    crook = next(e for e in compared["ends"] if e["style"] == "crook")
    assert crook["bending_a"] > 0
    spec.write_text(SPEC.replace("reach", "raech"))
    done = springgeo(site, "check", str(spec))
    assert done.returncode == 2
    assert "did you mean 'reach'?" in done.stderr


def test_it_builds_and_has_a_picture(site: Path, spec: Path, tmp_path: Path) -> None:
    done = springgeo(site, "build", str(spec), "-o", str(tmp_path / "out"))
    assert done.returncode == 0, done.stderr
    assert {p.suffix for p in (tmp_path / "out").iterdir()} >= {".step", ".stl", ".json"}
    code = f"import springgeo as sg; print(sg.Spring.from_file({str(spec)!r}).picture())"
    drawn = subprocess.run(
        [sys.executable, "-c", code],
        text=True,
        capture_output=True,
        env={**os.environ, "PYTHONPATH": str(site)},
        check=True,
    )
    assert drawn.stdout.startswith("<svg")
