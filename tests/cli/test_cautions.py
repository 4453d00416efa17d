"""Every command that tells of a spring, and every file, carries the cautions."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from springgeo import Spring
from springgeo.cli.main import run
from springgeo.files.formats.stl import stl_header
from springgeo.mesh.stl import stl_bytes
from springgeo.results.facts import CAUTIONS

pytestmark = pytest.mark.usefixtures("presets_kept")

OVERHEAD = "Never make an extension spring the only support of overhead or personnel loads."
READINGS = """name: sample
wire_diameter: 1.2
outer_diameter: 10.8
coils: 18.5
free_length: 38.0
pulls: [{length: 45, load: 16.0}, {length: 50, load: 22.3}, {length: 55, load: 28.6}]
hooks: [{style: full-twisted-loop}, {style: machine-half-loop}]
"""
JOB = """name: job
points: [{length: 60, load: 15}, {length: 75, load: 30}]
choice: {materials: [astm-a228], ends: [machine-half-loop], series: [en-iso]}
"""
FAMILY = (
    "name,wire.diameter,body.index,body.coils,ends.first.style,ends.second.style\n"
    "x,1,8,9,plain,plain\n"
)


@pytest.mark.parametrize("command", ["check", "stress", "size", "measure", "family"])
def test_the_terminal_warns(
    command: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    texts = {"size": JOB, "measure": READINGS, "family": FAMILY}
    file = tmp_path / ("in.csv" if command == "family" else "in.yaml")
    file.write_text(texts.get(command, ""), encoding="utf-8")
    more = {"family": ["--summary-only", "--jobs", "1"], "size": ["--top", "1"]}.get(command, [])
    args = (
        [command, "--preset", "gate-latch"]
        if command in ("check", "stress")
        else [command, str(file)]
    )
    assert run([*args, *more]) == 0
    out = capsys.readouterr().out
    assert all(c in out for c in CAUTIONS)
    assert OVERHEAD in out


def test_stress_csv_begins_with_them_and_reads_past(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["stress", "--preset", "gate-latch"]) == 0
    first, rest = Path("stress.csv").read_text("ascii").split("\n", 1)
    assert first.startswith("# 'gate latch return spring'; mm, N")
    assert OVERHEAD in first
    rows = list(csv.DictReader(io.StringIO(rest)))
    assert float(rows[0]["s"]) >= 0


def test_stl_header_says_that_prints_carry_no_load() -> None:
    spring = Spring.from_preset("gate-latch")
    header = stl_header("x" * 200, spring.summary())
    assert len(header) <= 80
    assert header.endswith("no load on prints")
    assert f"summary={spring.summary().digest()} " in header
    assert stl_bytes(spring.mesh(0.2), header)[:80].decode("ascii").startswith("springgeo ")
