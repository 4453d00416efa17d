from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from springgeo.family import build_family, read_family
from springgeo.family.builder import Builder
from springgeo.family.child import IDLE
from tests.gate import thinned

CRASHES = {"exit": "left with code 7", "kill": "ended by SIGKILL", "memory": "MemoryError"}


@pytest.mark.parametrize(("how", "jobs"), thinned(2, list(CRASHES), [1, 2]))
def test_a_crash_costs_one_member(
    how: str, jobs: int, deadly: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOW", how)
    outcome = build_family(read_family(deadly, whole=False), tmp_path / "out", jobs)
    assert [r.status for r in outcome.records] == ["built", "failed", "built", "failed", "built"]
    assert CRASHES[how] in outcome.records[1].errors[0]
    assert "index-too-large" in outcome.records[3].errors[0]


def test_what_a_library_prints_does_not_get_between(
    deadly: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOW", "noise")
    outcome = build_family(read_family(deadly, whole=False), tmp_path / "out", 1)
    assert [r.status for r in outcome.records] == ["built"] * 3 + ["failed", "built"]


def test_a_child_takes_member_after_member_and_none_is_left(deadly: Path, tmp_path: Path) -> None:
    first, _, third, *_ = read_family(deadly, whole=False)
    builder = Builder()
    assert builder.build(first, tmp_path).status == "built"
    process = builder._process
    assert process is not None
    assert builder.build(third, tmp_path).status == "built"
    assert builder._process is process
    builder._last -= IDLE  # as if it had rested: the child may be about to go
    assert builder.build(first, tmp_path).status == "built"
    assert builder._process is not process
    assert process.poll() == 0  # it left by itself when its input ended
    last = builder._process
    builder.close()
    assert last is not None
    assert last.poll() == 0


GRID = """
base:
  name: g
  wire: {diameter: 1}
  body: {index: 8, coils: 10}
  ends: {a: {style: machine-half-loop}, b: {style: machine-half-loop}}
vary: {body.coils: [%s]}
"""


@pytest.mark.slow
def test_kill_9_and_again(tmp_path: Path) -> None:
    (tmp_path / "grid.yaml").write_text(GRID % ", ".join(str(n) for n in range(5, 45)))
    command = [
        sys.executable,
        "-m",
        "springgeo",
        "family",
        "grid.yaml",
        "-o",
        "out",
        "--jobs",
        "2",
        "--summary-only",
    ]
    first = subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    while len(list((tmp_path / "out").glob("*/member.json"))) < 5:
        assert first.poll() is None
        time.sleep(0.01)
    os.kill(first.pid, signal.SIGKILL)
    out, err = first.communicate()
    assert first.returncode == -signal.SIGKILL
    assert not out
    assert not err  # no progress where nobody watches
    # the manifest a killed run leaves is whole, and says that it is not the end
    data = json.loads((tmp_path / "out" / "manifest.json").read_text())
    assert data["waiting"] > 0
    before = len(list((tmp_path / "out").glob("*/member.json")))
    assert 5 <= before < 40
    again = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=True)
    built, _, total = again.stdout.split()[:3]
    assert (built, total) == ("40", "40")
    assert int(again.stdout.split("built, ")[1].split()[0]) >= before
    data = json.loads((tmp_path / "out" / "manifest.json").read_text())
    assert (data["built"], data["failed"], data["waiting"]) == (40, 0, 0)
    assert not list((tmp_path / "out").rglob(".springgeo-*"))
