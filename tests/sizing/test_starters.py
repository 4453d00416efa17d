"""The files ``springgeo new --for`` writes do what they say, comments taken in too."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from springgeo.cli.main import run
from springgeo.cli.starters import JOB, STARTERS
from springgeo.sizing import job_of
from springgeo.text.safe_yaml import parse_yaml


@pytest.mark.parametrize("purpose", STARTERS)
def test_a_starter_runs_as_it_is(
    purpose: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["new", "--for", purpose]) == 0
    command = capsys.readouterr().out.split("next: springgeo ")[1].split()
    more = {"family": ["--summary-only"], "job": ["--top", "1"]}.get(purpose, [])
    assert run([*command, *more]) == 0
    said = capsys.readouterr().out
    assert "warning" not in said
    assert run(["new", "--for", purpose]) == 2  # nothing is replaced unasked


def test_every_key_in_the_comments_of_the_job_is_one() -> None:
    assert job_of(parse_yaml(JOB)).name == "my job"
    for form in ("installed", "energy", "lever"):
        lines = JOB.splitlines()
        start = next(i for i, line in enumerate(lines) if line.startswith(f"# {form}:"))
        block = [lines[start][2:]]
        for line in lines[start + 1 :]:
            if not re.match(r"#   \w", line):
                break
            block.append(line[2:])
        assert job_of(parse_yaml("\n".join(block))).lines
    # the optional keys, each uncommented where it stands
    for key in (
        "rod_diameter",
        "free_length",
        "hook_a",
        "hook_b",
        "materials",
        "series",
        "mixed_ends",
        "forcing_frequency",
        "weights",
        "initial_tension",
        "method",
        "use_tolerance",
    ):
        text = re.sub(rf"^( *)# ({key}:)", r"\1\2", JOB, flags=re.MULTILINE)
        assert text != JOB
        job_of(parse_yaml(text))
