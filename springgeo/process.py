"""Processes: how a Python beside this one is started and why it ended, and this one's output."""

from __future__ import annotations

import ctypes
import os
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress

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


_output = threading.RLock()
_closed = 0


@contextmanager
def closed_stdout() -> Iterator[None]:
    """Let nothing that compiled libraries print reach standard output, by its descriptor.

    One at a time, and again inside itself. What Python has not written yet is written before.
    """
    global _closed
    with _output:
        if _closed:
            yield
            return
        with suppress(OSError, ValueError, AttributeError):  # closed, full, or none at all
            sys.stdout.flush()
        try:
            kept = os.dup(1)
        except OSError:  # there is no standard output to keep clean
            yield
            return
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.close(nowhere)
        _closed += 1
        try:
            yield
        finally:
            _closed -= 1
            _flush_compiled()
            os.dup2(kept, 1)
            os.close(kept)


def _flush_compiled() -> None:
    """Write what C and C++ have in their buffers for standard output."""
    with suppress(OSError, AttributeError):
        library = ctypes.CDLL(None) if os.name == "posix" else ctypes.CDLL("ucrtbase")
        library.fflush(None)
