"""A short part of the killed runs; the whole: ``python -m tests.stability.kills``."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.mark.parametrize("count", [2, pytest.param(14, marks=pytest.mark.slow)])
@pytest.mark.skipif(os.name != "posix", reason="forks, and sends SIGKILL")
def test_killed_runs_leave_whole_files_or_none(tmp_path: Path, count: int) -> None:
    """In a process of its own: what forks must be young and without threads."""
    done = subprocess.run(
        [
            *(sys.executable, "-m", "tests.stability.kills", "--count", str(count)),
            *("--out", str(tmp_path / "kills.json")),
        ],
        cwd=Path(__file__).parents[2],
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
