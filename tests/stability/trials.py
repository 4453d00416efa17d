"""Runs seeded trials in processes of their own and counts how they end.

A trial is ``trial(seed, folder) -> bool``: true if it was answered, false if the project refused
it in words of its own. Whatever else happens is a failure by name: ``traceback``, ``hang`` (over
10 s of processor, or two minutes on the clock), ``not finite``, ``wrong``, and ``death`` of the
process. On a machine busy with other work the minutes say nothing: set ``SPRINGGEO_TRIAL_CLOCK``
to more seconds then; the processor's time still counts.
"""

from __future__ import annotations

import argparse
import json
import math
import os
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

from springgeo.errors import SpecError, SpringgeoError

Trial = Callable[[int, Path], bool]
SECONDS = 10.0
CLOCK = "SPRINGGEO_TRIAL_CLOCK"  # an environment variable, so that processes of a pool read it too
ON_THE_CLOCK = float(os.environ.get(CLOCK, "120"))
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


def another() -> None:
    """Give the next question of a trial the whole time."""
    signal.setitimer(signal.ITIMER_VIRTUAL, SECONDS)
    signal.setitimer(signal.ITIMER_REAL, ON_THE_CLOCK)


def outcome(trial: Trial, seed: int, folder: Path) -> tuple[str, str]:
    """Return how one trial ends, and what to know of it."""

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise HangError

    signal.signal(signal.SIGVTALRM, stop)
    signal.signal(signal.SIGALRM, stop)
    another()
    try:
        return ("answered" if trial(seed, folder) else "refused"), ""
    except HangError:
        return "hang", "".join(traceback.format_exc().splitlines(keepends=True)[-8:])
    except NotFiniteError as exc:
        return "not finite", str(exc)
    except AssertionError as exc:
        return "wrong", f"{exc}\n{traceback.format_exc()[-600:]}"
    except SpringgeoError as exc:
        return ("wrong", f"refused in several lines: {exc!r}") if _runs_on(exc) else ("refused", "")
    except BaseException:
        return "traceback", traceback.format_exc()[-900:]
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.setitimer(signal.ITIMER_REAL, 0)


def _runs_on(exc: SpringgeoError) -> bool:
    lines = [f.line() for f in exc.findings] if isinstance(exc, SpecError) else [str(exc)]
    return any("\n" in line or not line.strip() for line in lines)


def block(trial: Trial, seeds: range) -> list[tuple[int, str, str]]:
    """Return how a row of trials ends."""
    with tempfile.TemporaryDirectory() as folder:
        return [(seed, *outcome(trial, seed, Path(folder))) for seed in seeds]


def every(trial: Trial, first: int, count: int, jobs: int) -> Iterator[tuple[int, str, str]]:
    """Yield how every trial ends.

    A row whose process dies, or hangs where no signal reaches it, is run again one by one.
    """
    rows = [
        range(start, min(start + BLOCK, first + count))
        for start in range(first, first + count, BLOCK)
    ]
    while rows:
        pool = ProcessPoolExecutor(jobs, mp_context=get_context("spawn"))
        waiting = [(row, pool.submit(block, trial, row)) for row in rows]
        rows = []
        for number, (row, work) in enumerate(waiting):
            try:
                yield from work.result(ON_THE_CLOCK * (len(row) + 1))
                continue
            except BrokenProcessPool:
                end = "death"
            except TimeoutError:
                end = "hang"
                for process in list(pool._processes.values()):
                    process.kill()
            if len(row) == 1:
                yield (
                    row.start,
                    end,
                    "the process died" if end == "death" else "it had to be killed",
                )
            rows = [range(n, n + 1) for n in row] if len(row) > 1 else []
            rows += [r for r, _ in waiting[number + 1 :]]
            break
        pool.shutdown(cancel_futures=True)


def main(name: str, trial: Trial) -> None:
    """Run as a command: counts on the last line, failures before; leave with 1 if there are any.

    ``--out`` holds counts and failures so far, so that a run that is stopped loses nothing.
    """
    options = argparse.ArgumentParser(description=name)
    options.add_argument("--count", type=int, default=2000)
    options.add_argument("--first", "--seed", type=int, default=0, help="the first seed")
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
        done = sum(ends.values())
        if given.out is not None and (done % BLOCK == 0 or done == given.count):
            facts = {"first": given.first, "done": done, "ends": ends, "failures": failed}
            given.out.write_text(json.dumps(facts, indent=1) + "\n", encoding="utf-8")
    words = ", ".join(f"{ends[k]} {k}" for k in sorted(ends))
    sys.stdout.write(f"{name}: {words}; {time.monotonic() - start:.0f} s\n")
    sys.exit(bool(failed))
