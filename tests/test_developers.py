"""What DEVELOPERS.md shows is run, each block in a process of its own."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

TEXT = (Path(__file__).parents[1] / "DEVELOPERS.md").read_text(encoding="utf-8")
PYTHON = re.findall(r"^```python\n(.*?)^```", TEXT, re.DOTALL | re.MULTILINE)


def test_there_is_something_to_run() -> None:
    assert PYTHON


@pytest.mark.parametrize("code", PYTHON, ids=range(len(PYTHON)))
def test_python_runs(code: str, tmp_path: Path) -> None:
    ending = "\nassert all(c.ok for c in spring.summary().checks)\n"
    file = tmp_path / "shown.py"
    file.write_text(code + (ending if "spring =" in code else ""))
    done = subprocess.run(
        [sys.executable, str(file)], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
