"""A sweep of coils at both levels, warm: milliseconds of CPU a spring, against one by one.

Run ``python tests/bench/bench_sweep.py``. The comparison is what a user would otherwise write: a
loop that makes each spring and takes its summary.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import springgeo as sg

SPRING = sg.Spring.from_preset("gate-latch")
COILS = [10 + 0.4 * n for n in range(100)]


def cost(work: Callable[[], object]) -> float:
    """Return the least CPU time of three runs, ms a spring."""
    times = []
    for _ in range(3):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return 1e3 * min(times) / len(COILS)


def one_by_one() -> list[float]:
    """Return the rate of each spring, made by itself."""
    return [SPRING.with_(body__coils=c).summary().along_the_wire.rate for c in COILS]


def main() -> None:
    """Print the cost of a spring each way."""
    vary = {"body.coils": COILS}
    book = cost(lambda: sg.sweep(SPRING, vary))
    wire = cost(lambda: sg.sweep(SPRING, vary, method="along-the-wire"))
    loop = cost(one_by_one)
    lines = [
        f"sweep of {len(COILS)} springs of {COILS[0]:g} to {COILS[-1]:g} coils, ms CPU a spring",
        f"handbook:       {book:6.2f}   (bound 2)",
        f"along the wire: {wire:6.2f}   (bound 25)",
        f"whole summaries one by one: {loop:6.2f}",
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
