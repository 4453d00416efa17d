"""A Python process beside this one: how it is started, and why it ended."""

from __future__ import annotations

import os
import signal
import sys

# the work is parallel already, or small: one thread for linear algebra
QUIET = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}


def child_command(module: str, *arguments: str) -> list[str]:
    """Return the command that runs ``module.main()`` on the same modules as here.

    None is taken from the current folder by accident. ``arguments`` are its ``sys.argv[1:]``.
    """
    start = f"import sys; sys.path[:] = {sys.path!r}; from {module} import main; main()"
    return [sys.executable, "-P", "-c", start, *arguments]


def child_environment() -> dict[str, str]:
    """Return the environment for a child that computes."""
    return QUIET | os.environ


def ended_by(code: int) -> str:
    """Return the name of the signal that ended a process with this return code, or ''."""
    if code >= 0:
        return ""
    names = {s.value: s.name for s in signal.Signals}
    return names.get(-code, f"signal {-code}")
