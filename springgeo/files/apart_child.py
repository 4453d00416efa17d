"""The process that reads a file of unknown origin: limits first, then the file, then one answer.

What it prints is one JSON text: ``refused``, or the fields of an `Inspection`. Its own standard
output is put aside, so that the kernel's messages do not come between.
"""

from __future__ import annotations

import json
import os
import sys
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path

from springgeo.text.json_value import Json


def main() -> None:
    """Do as the arguments say: a verb, path, seconds, bytes of address space.

    The verbs are ``inspect``, ``read`` and ``recover``, which is followed by where to leave the
    points.
    """
    verb, path, seconds, memory = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])
    _limit(seconds, memory)
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    text = json.dumps(_answer(verb, path, memory), ensure_ascii=True, allow_nan=False)
    answers.write(text.encode("ascii"))
    answers.close()
    os._exit(0)  # the kernel's own clearing up is not worth waiting for, and may crash


def _answer(verb: str, path: Path, memory: int) -> dict[str, Json]:
    from springgeo.errors import FileError

    try:
        if verb == "read":
            from springgeo.files.step.read import read_step

            read_step(path)
            return {"read": True}
        if verb == "recover":
            from springgeo.files.surface_here import surface_here

            return surface_here(path, Path(sys.argv[5]))
        from springgeo.files.inspection import inspect_here

        found = inspect_here(path)
    except FileError as exc:
        return {"refused": str(exc)}
    except MemoryError:
        text = f"reading it takes more than {memory / 1e9:.2g} GB of memory"
        return {"refused": f"cannot {verb} {path}: {text}; it is damaged, or too large"}
    return asdict(found) | {"path": str(found.path)}


def _limit(seconds: int, memory: int) -> None:
    try:
        import resource
    except ImportError:  # Windows has none of these limits
        return
    for kind, value, last in (
        (resource.RLIMIT_CPU, seconds, seconds + 2),  # first SIGXCPU, which tells the reason
        (resource.RLIMIT_AS, memory, memory),
        (resource.RLIMIT_CORE, 0, 0),
    ):
        with suppress(ValueError, OSError):  # a lower limit is set already
            resource.setrlimit(kind, (value, last))
