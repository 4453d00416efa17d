"""Runs seeded trials in processes of their own and counts how they end.

A trial is ``trial(seed, folder) -> bool``: true if it was answered, false if the project refused
it in words of its own. Whatever else happens is a failure by name: ``traceback``, ``hang`` (over
10 s of processor, or two minutes on the clock), ``not finite``, ``wrong``, and ``death`` of the
process.
"""

from __future__ import annotations

import argparse
import json
import math
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path
from types import FrameType
from typing import Any

from springgeo.errors import SpringgeoError

Trial = Callable[[int, Path], bool]
SECONDS, ON_THE_CLOCK = 10.0, 120.0
BLOCK = 20


class HangError(BaseException):
    """A trial takes too long."""


class NotFiniteError(Exception):
    """A result holds a number that is none."""


def require_finite(value: Any, where: str = "") -> None:
    """Raise NotFiniteError where a nest of mappings and lists holds NaN or infinity."""
    if isinstance(value, float) and not math.isfinite(value):
        raise NotFiniteError(f"{where or 'result'} is {value}")
    if isinstance(value, dict):
        for key, inner in value.items():
            require_finite(inner, f"{where}.{key}")
    elif isinstance(value, list | tuple):
        for number, inner in enumerate(value):
            require_finite(inner, f"{where}.{number}")


def outcome(trial: Trial, seed: int, folder: Path) -> tuple[str, str]:
    """Return how one trial ends, and what to know of it."""

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise HangError

    signal.signal(signal.SIGVTALRM, stop)
    signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, SECONDS)
    signal.setitimer(signal.ITIMER_REAL, ON_THE_CLOCK)
    try:
        return ("answered" if trial(seed, folder) else "refused"), ""
    except HangError:
        return "hang", "".join(traceback.format_exc().splitlines(keepends=True)[-8:])
    except NotFiniteError as exc:
        return "not finite", str(exc)
    except AssertionError as exc:
        return "wrong", f"{exc}\n{traceback.format_exc()[-600:]}"
    except SpringgeoError:
        return "refused", ""
    except BaseException:
        return "traceback", traceback.format_exc()[-900:]
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.setitimer(signal.ITIMER_REAL, 0)


def block(trial: Trial, seeds: range) -> list[tuple[int, str, str]]:
    """Return how a row of trials ends."""
    with tempfile.TemporaryDirectory() as folder:
        return [(seed, *outcome(trial, seed, Path(folder))) for seed in seeds]


def every(trial: Trial, first: int, count: int, jobs: int) -> Iterator[tuple[int, str, str]]:
    """Yield how every trial ends; the death of a process costs a row of them."""
    rows = [
        range(start, min(start + BLOCK, first + count))
        for start in range(first, first + count, BLOCK)
    ]
    pool = ProcessPoolExecutor(jobs, mp_context=get_context("spawn"))
    waiting = [(row, pool.submit(block, trial, row)) for row in rows]
    for number, (row, work) in enumerate(waiting):
        try:
            yield from work.result()
        except BrokenProcessPool:
            yield row.start, "death", f"a process died in seeds {row.start} to {row.stop - 1}"
            pool = ProcessPoolExecutor(jobs, mp_context=get_context("spawn"))
            later = [r for r, _ in waiting[number + 1 :]]
            waiting[number + 1 :] = [(r, pool.submit(block, trial, r)) for r in later]
    pool.shutdown()


def main(name: str, trial: Trial) -> None:
    """Run as a command: counts on the last line, failures before; leave with 1 if there are any."""
    options = argparse.ArgumentParser(description=name)
    options.add_argument("--count", type=int, default=2000)
    options.add_argument("--first", type=int, default=0)
    options.add_argument("--jobs", type=int, default=1)
    options.add_argument("--out", type=Path)
    given = options.parse_args()
    start, ends, failed = time.monotonic(), Counter[str](), []
    for seed, end, what in every(trial, given.first, given.count, given.jobs):
        ends[end] += 1
        if end not in ("answered", "refused"):
            failed.append({"seed": seed, "end": end, "what": what})
            sys.stdout.write(f"{name} {seed}: {end}\n{what}\n")
            sys.stdout.flush()
    if given.out is not None:
        given.out.write_text(json.dumps(failed, indent=1) + "\n", encoding="utf-8")
    words = ", ".join(f"{ends[k]} {k}" for k in sorted(ends))
    sys.stdout.write(f"{name}: {words}; {time.monotonic() - start:.0f} s\n")
    sys.exit(bool(failed))
