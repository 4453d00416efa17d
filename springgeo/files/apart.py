"""Reads files of unknown origin in a child process, which may die, hang or grow without harm.

The child sets its own limits before it opens the file (`springgeo.files.apart_child`); whatever
becomes of it is one line here.
"""

from __future__ import annotations

import os
import stat
import subprocess
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from springgeo.errors import FileError
from springgeo.process import child_command, child_environment, ended_by
from springgeo.text.json_value import Json
from springgeo.text.safe_json import parse_json

LARGEST = 2_000_000_000
ENDINGS = ".step", ".stp", ".stl", ".3mf", ".glb", ".inp"
_MB = 1_000_000


@dataclass(frozen=True)
class Limits:
    """What reading one file may take: s of computing, s in all, bytes of address space."""

    seconds: int
    wait: float
    memory: int

    @classmethod
    def of(cls, size: int) -> Limits:
        """Return the limits for a file of ``size`` bytes.

        The kernel takes 0.7 GB of address space before it reads anything; a solid is measured
        at a few seconds for each MB, a mesh takes some six times its own size.
        """
        seconds = 8 + 6 * size // _MB
        return cls(seconds, 10.0 + 5.0 * seconds, 1500 * _MB + 12 * size)


def require_regular(path: Path, verb: str = "inspect") -> int:
    """Return the size of a regular file, in bytes; raises FileError for anything else."""
    try:
        found = path.stat()
    except (OSError, ValueError) as exc:
        reason = (getattr(exc, "strerror", None) or str(exc)).lower()
        raise FileError(f"cannot read {path}: {reason}") from None
    if stat.S_ISDIR(found.st_mode):
        raise FileError(f"cannot {verb} {path}: it is a directory")
    if not stat.S_ISREG(found.st_mode):
        raise FileError(f"cannot {verb} {path}: it is not a regular file")
    if found.st_size > LARGEST:
        raise FileError(f"cannot {verb} {path}: larger than {LARGEST} bytes")
    return found.st_size


def inspected_apart(path: Path, limits: Limits | None = None) -> dict[str, Any]:
    """Return what the child found in a file, as `springgeo.files.apart_child` writes it.

    Raises
    ------
    FileError
        The file cannot be read or is not sound, or reading it took more than the limits allow.
    """
    if path.suffix.lower() not in ENDINGS:
        raise FileError(
            f"cannot inspect {path}: give a file ending in .step, .stl, .3mf, .glb or .inp"
        )
    return _asked("inspect", path, limits)


def require_step(path: Path) -> None:
    """Raise FileError unless the kernel can read a STEP file and lives, tried in the child."""
    _asked("read", path)


def surface_apart(path: Path, kept: Path) -> dict[str, Any]:
    """Let the child leave a part's surface in a file ``kept``; return what it says of it.

    Raises as `inspected_apart`.
    """
    return _asked("recover", path, more=(str(kept),))


def _asked(
    verb: str, path: Path, limits: Limits | None = None, more: tuple[str, ...] = ()
) -> dict[str, Json]:
    size = require_regular(path, verb)
    limits = limits or Limits.of(size)
    command = child_command(
        "springgeo.files.apart_child",
        *(verb, str(path), str(limits.seconds), str(limits.memory), *more),
    )
    try:
        done = subprocess.run(
            command,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            env=child_environment(),
            timeout=limits.wait,
            check=False,
        )
    except subprocess.TimeoutExpired:
        late = f"reading it took more than {limits.wait:g} s on the clock; the machine is busy,"
        raise FileError(f"cannot {verb} {path}: {late} or the file is damaged") from None
    except OSError as exc:
        reason = (exc.strerror or str(exc)).lower()
        raise FileError(f"cannot {verb} {path}: no process to read it in: {reason}") from None
    if done.returncode:
        raise FileError(f"cannot {verb} {path}: {_reason(done, limits)}")
    answer = parse_json(done.stdout)
    if "refused" in answer:
        raise FileError(str(answer["refused"]))
    return answer


def _reason(done: subprocess.CompletedProcess[bytes], limits: Limits) -> str:
    name = ended_by(done.returncode)
    if name == "SIGXCPU":
        return _too_slow(limits)
    if name == "SIGKILL":
        return "the process that read it was ended by SIGKILL, as happens when memory runs out"
    if name:
        return f"it is damaged: the process that read it was ended by {name}"
    last = done.stderr.decode("utf-8", "replace").strip().splitlines()[-1:] or ["no reason given"]
    words = "".join(c if c.isprintable() else " " for c in last[0])[:200]
    return f"it is damaged: the process that read it left with {done.returncode} ({words})"


def _too_slow(limits: Limits) -> str:
    return f"reading it took more than {limits.seconds} s; it is damaged, or too large"


def same_folder(path: Path, name: object) -> Path | None:
    """Return a regular file beside ``path``, None for any other name or thing."""
    if not isinstance(name, str) or not name or os.path.basename(name) != name:  # noqa: PTH119
        return None
    beside = path.parent / name
    try:
        require_regular(beside)
    except FileError:
        return None
    return beside
