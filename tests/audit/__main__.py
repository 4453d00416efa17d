"""Examines springs drawn at random: ``python -m tests.audit --count 20 --seed 1 --only columns``.

Prints the worst disagreement of each question, and leaves with 1 where one is more than allowed.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
import traceback
from pathlib import Path

import numpy as np

from . import QUESTIONS
from .compared import Compared


def main() -> None:
    """Run as a command."""
    options = argparse.ArgumentParser(prog="tests.audit")
    options.add_argument("--count", type=int, default=10)
    options.add_argument("--seed", type=int, default=1, help="the first seed")
    options.add_argument("--only", default=",".join(QUESTIONS), help="questions, by commas")
    given = options.parse_args()
    bad = False
    for name in given.only.split(","):
        told, start, broken = Compared(), time.process_time(), []
        for seed in range(given.seed, given.seed + given.count):
            told.seed = seed
            with tempfile.TemporaryDirectory() as folder:
                try:
                    QUESTIONS[name](np.random.default_rng([41, seed]), told, Path(folder))
                except Exception:
                    broken.append(f"seed {seed}: {traceback.format_exc()[-1500:]}")
        seconds = time.process_time() - start
        lines = [f"== {name}: {given.count} springs, {seconds:.0f} CPU s", *told.lines()]
        for what, cases in told.failed.items():
            lines += [f"{what}: {len(cases)} times", *(f"  {case}" for case in cases[:8])]
        sys.stdout.write("\n".join([*lines, *broken]) + "\n\n")
        sys.stdout.flush()
        bad = bad or bool(told.failed or broken)
    sys.exit(bad)


if __name__ == "__main__":
    main()
