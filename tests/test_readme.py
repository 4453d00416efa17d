"""What README shows is run: its Python, its specification, its commands' names."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from springgeo.cli.main import run
from springgeo.specification.load import spec_of
from springgeo.spring.model import SpringModel

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w+)\n(.*?)^```", README, re.DOTALL | re.MULTILINE)
PYTHON = [code for language, code in BLOCKS if language == "python"]
SPECS = [code for language, code in BLOCKS if language == "yaml"]
COMMANDS = re.findall(r"^springgeo (\w+)", "\n".join(c for k, c in BLOCKS if k == "sh"), re.M)


def test_there_is_something_to_run() -> None:
    assert PYTHON
    assert SPECS
    assert COMMANDS


@pytest.mark.parametrize("code", PYTHON, ids=lambda c: c.splitlines()[0])
def test_python_runs(code: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    exec(compile(code, "README.md", "exec"), {"__name__": "readme"})


@pytest.mark.parametrize("text", SPECS, ids=lambda c: c.splitlines()[0])
def test_specifications_can_be_made(text: str) -> None:
    assert SpringModel.of(spec_of(yaml.safe_load(text)))


@pytest.mark.parametrize("command", sorted(set(COMMANDS)))
def test_commands_exist(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([command, "--help"]) == 0
    assert f"springgeo {command}" in capsys.readouterr().out
