"""CPU seconds of ``springgeo check`` and of ``import springgeo``, beside the bare imports.

Run ``python tests/bench/bench_check.py``. Each is a fresh process, user and system time summed;
median of seven, taken in turn so that a busy machine troubles all alike. The bare imports are
what any tool on the same four libraries pays before it does anything; pydantic loads most of
itself only with the first model, which the second row has.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys

ROUNDS, PRESET = 7, "gate-latch"
BARE = "import numpy, pydantic, yaml, click"
MODEL = "; from pydantic import BaseModel; type('M', (BaseModel,), {})"
COMMANDS = {
    f"bare python: {BARE}": ("-c", BARE),
    "the same, and one model of pydantic": ("-c", BARE + MODEL),
    "import springgeo": ("-c", "import springgeo"),
    f"springgeo check --preset {PRESET}": ("-m", "springgeo", "check", "--preset", PRESET),
}


def cpu_seconds(arguments: tuple[str, ...]) -> float:
    """Return user and system seconds of one Python process; raises if it fails."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(
        [sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL, env=_with_byte_code()
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _with_byte_code() -> dict[str, str]:
    """Return the environment without what keeps Python from storing byte code."""
    return {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}


def main() -> None:
    """Print the medians and their ratio to the bare imports."""
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for arguments in COMMANDS.values():  # once unmeasured: byte code and disk cache
        cpu_seconds(arguments)
    for _ in range(ROUNDS):
        for name, arguments in COMMANDS.items():
            times[name].append(cpu_seconds(arguments))
    bare = statistics.median(next(iter(times.values())))
    for name, found in times.items():
        middle = statistics.median(found)
        spread = f"{min(found):.2f} to {max(found):.2f}"
        print(f"{name:52} {middle:6.3f} s CPU  ({spread})  {middle / bare:5.2f} times bare")


if __name__ == "__main__":
    main()
