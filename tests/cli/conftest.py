"""Runs the real command line in this process, and a file to spoil."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from springgeo.cli.main import run

GOOD = """\
name: test spring
wire: {material: astm-a228, diameter: 1.2 mm}
body: {mean_diameter: 9.6 mm, coils: 18.5}
ends:
  a: {style: full-twisted-loop}
  b: {style: machine-half-loop}
service: {loads: [15 N, 30 N]}
"""


@dataclass(frozen=True)
class Result:
    """Exit code and what was printed."""

    code: int
    out: str
    err: str


Command = Callable[..., Result]


@pytest.fixture
def springgeo(capsys: pytest.CaptureFixture[str]) -> Command:
    """Return a function that runs ``springgeo`` with arguments."""

    def command(*args: str | Path) -> Result:
        capsys.readouterr()
        code = run([str(a) for a in args])
        out, err = capsys.readouterr()
        return Result(code, out, err)

    return command


@pytest.fixture
def spec_file(tmp_path: Path) -> Path:
    """Return a specification that is fine, in a folder of its own."""
    folder = tmp_path / "in"
    folder.mkdir()
    file = folder / "spring.yaml"
    file.write_text(GOOD, encoding="utf-8")
    return file
