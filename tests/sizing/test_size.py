from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from springgeo.api import Spring
from springgeo.cli.main import run
from springgeo.sizing import job_of, size

JOB = """
name: test
points: [{length: 60 mm, load: 15 N}, {length: 75 mm, load: 30 N}]
choice: {materials: [astm-a228], series: [en-iso], ends: [machine-half-loop, raised-hook]}
envelope: {outer_diameter: 14 mm}
"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.yaml"
    path.write_text(JOB)
    return path


def test_choices_are_specifications_that_keep_their_word(job: Path, tmp_path: Path) -> None:
    assert run(["size", str(job), "-o", str(tmp_path / "out"), "--top", "2"]) == 0
    result = json.loads((tmp_path / "out" / "sizing.json").read_text())
    assert len(result["choices"]) == 2
    for n in (1, 2):
        spring = Spring.from_file(tmp_path / "out" / f"choice-{n}.yaml")
        for length, load in ((60, 15), (75, 30)):
            assert spring.at(load=load).length == pytest.approx(length, rel=1e-5)
        summary = spring.summary()
        assert not [f for f in summary.findings if f.severity == "warning"]
        assert all(c.ok for c in summary.checks)
        assert summary.geometry.outer_diameter <= 14


def test_nothing_fits(job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job.write_text(JOB.replace("14 mm", "4 mm") + "method: handbook\n")
    assert run(["size", str(job), "-o", str(tmp_path / "out")]) == 2
    assert "outside diameter" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
    assert run(["size", str(job), "--json"]) == 2
    assert json.loads(capsys.readouterr().out)["why_not"]


def test_missing_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["size", str(tmp_path / "none.yaml")]) == 2
    assert "cannot read" in capsys.readouterr().err


def test_handbook_method_and_mixed_ends() -> None:
    result = size(
        job_of(
            {
                "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
                "method": "handbook",
                "choice": {
                    "materials": ["astm-a228"],
                    "mixed_ends": True,
                    "series": ["en-iso"],
                    "ends": ["machine-half-loop", "raised-hook"],
                },
                "objectives": ["cost", "natural_frequency", "free_length", "mass"],
            }
        ),
        top=2,
    )
    assert len(result.winners) == 2
    for w in result.winners:
        assert w.summary.rate == pytest.approx(1.0, rel=1e-6)


def test_light() -> None:
    code = (
        "import sys, springgeo.sizing as s\n"
        "s.size(s.job_of({'points': [dict(length=60, load=15), dict(length=75, load=30)],"
        "'choice': {'materials': ['astm-a228'], 'series': ['en-iso'], 'ends': ['raised-hook']}}),"
        " top=1)\n"
        "sys.exit(bool({'OCP', 'matplotlib', 'cadquery'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.slow
def test_build(job: Path, tmp_path: Path) -> None:
    assert run(["size", str(job), "-o", str(tmp_path / "out"), "--top", "1", "--build"]) == 0
    assert list((tmp_path / "out" / "choice-1").glob("*.step"))
