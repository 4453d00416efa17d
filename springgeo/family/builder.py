"""Builds a member in a child process, so that its crash is a line in the manifest, not the end.

The threads of this machine share a `Crew`, workers of Dask and Ray call `build_apart`. A child has
loaded the kernel once and takes member after member.
"""

from __future__ import annotations

import json
import subprocess
import time
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path

from springgeo.family.build import failed
from springgeo.family.child import IDLE
from springgeo.family.member import Member, Record
from springgeo.process import child_command, child_environment, ended_by


class Builder:
    """A child process, started when first needed and anew after a crash or a long rest."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._last = 0.0

    def build(self, member: Member, folder: Path) -> Record:
        """Return the record of a member built in the child; a crash of it is a failed record."""
        try:
            process = self._ready()
        except OSError as exc:  # no memory, or no process, left for a child
            return failed(member, f"process-not-started: {exc.strerror or exc}")
        assert process.stdin is not None
        assert process.stdout is not None
        order = {"member": asdict(member), "folder": str(folder)}
        answer = b""
        try:
            process.stdin.write(json.dumps(order, default=str).encode() + b"\n")
            process.stdin.flush()
            answer = process.stdout.readline()
        except OSError:  # it died before it read the order
            pass
        self._last = time.monotonic()
        if answer.endswith(b"\n"):
            return Record.model_validate_json(answer)
        why = _reason(process.wait())
        self.close()
        return failed(member, f"process-died: the process that built it {why}")

    def _ready(self) -> subprocess.Popen[bytes]:
        # a child goes of itself when idle; do not run into that moment
        if self._process is not None and time.monotonic() - self._last > IDLE / 2:
            self.close()
        if self._process is None:
            self._process = subprocess.Popen(
                child_command("springgeo.family.child"),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env=child_environment(),
            )
        return self._process

    def close(self) -> None:
        """End the child: it goes when its input ends, or after the member it is at is killed."""
        process, self._process = self._process, None
        if process is None:
            return
        for stream in (process.stdin, process.stdout):
            if stream is not None:
                with suppress(OSError):  # an order it never read
                    stream.close()
        try:
            process.wait(5)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()

    def __del__(self) -> None:
        self.close()


class Crew:
    """As many builders as there are callers at one time; each takes the next member."""

    def __init__(self) -> None:
        self._resting: list[Builder] = []

    def build(self, member: Member, folder: Path) -> Record:
        """Return the record of a member, built by a child that is free."""
        try:
            builder = self._resting.pop()
        except IndexError:
            builder = Builder()
        record = builder.build(member, folder)
        self._resting.append(builder)
        return record

    def close(self) -> None:
        """End the children that are at rest."""
        while self._resting:
            self._resting.pop().close()


_crew = Crew()


def build_apart(member: Member, folder: Path) -> Record:
    """Return the record of a member; for workers of a cluster, whose children outlive a call."""
    return _crew.build(member, folder)


def _reason(code: int) -> str:
    if code >= 0:
        return f"left with code {code}"
    name = ended_by(code)
    hint = ", as happens when memory runs out" if name == "SIGKILL" else ""
    return f"was ended by {name}{hint}"
