"""The process that builds: a member comes in on standard input, its record goes out, line by line.

It is a process of its own so that a crash of the kernel, or of somebody's end style, costs one
member and nothing else; see `springgeo.family.builder` for the other side.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import threading
from pathlib import Path

from springgeo.family.build import build_member
from springgeo.family.member import Member

# seconds without an order after which the process goes: nobody may be left to end it
IDLE = 60.0


def main() -> None:
    """Answer orders until the input ends."""
    # the one who reads the answers decides what an interruption means
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # what a library prints must not get between the answers
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    for line in sys.stdin.buffer:
        order = json.loads(line)
        record = build_member(Member(**order["member"]), Path(order["folder"]))
        answers.write(record.model_dump_json().encode() + b"\n")
        answers.flush()
        _wait()


_timer: list[threading.Timer] = []


def _wait() -> None:
    """Start counting the idle time anew."""
    for timer in _timer:
        timer.cancel()
    timer = threading.Timer(IDLE, os._exit, (0,))
    timer.daemon = True
    timer.start()
    _timer[:] = [timer]
