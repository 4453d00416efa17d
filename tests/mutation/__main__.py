"""Run the mutants: ``python -m tests.mutation [WORD ...] [--out FILE]``.

The package and its tests are copied aside. Each mutant is patched into the copy, and only the
tests that its line names are run, once they have passed without it. ``killed``: a test fails.
``survived``: none does. ``moved``: its text no longer stands once in the file. A word limits the
run to mutants whose line holds it; a run that was stopped goes on from what FILE says was killed.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from .mutants import MUTANTS, Mutant

ROOT = Path(__file__).resolve().parents[2]
COPIED = (
    "springgeo",
    "tests",
    "presets",
    "gallery",
    "pyproject.toml",
    "README.md",
    "DEVELOPERS.md",
)
# a mutant may make a loop endless: that is noticed
SECONDS = 900


class Copy:
    """A copy of the tree in which files are changed and tests run."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.changes = 0
        for name in COPIED:
            place = ROOT / name
            aside = shutil.ignore_patterns("__pycache__", ".*")
            if place.is_dir():
                shutil.copytree(place, folder / name, ignore=aside)
            else:
                shutil.copy(place, folder / name)
        self.passes = cache(self._passes)

    def outcome(self, mutant: Mutant) -> str:
        """Return how the tests answer a mutant."""
        place = self.folder / mutant.file
        text = place.read_text(encoding="utf-8")
        if text.count(mutant.old) != 1:
            return "moved"
        if not self.passes(mutant.tests):
            return "fails without it"
        self._write(place, text.replace(mutant.old, mutant.new))
        try:
            return "survived" if self._passes(mutant.tests) else "killed"
        finally:
            self._write(place, text)

    def _write(self, place: Path, text: str) -> None:
        place.write_text(text, encoding="utf-8")
        # compiled code is told by the time of its source, to the second
        self.changes += 1
        when = time.time() + 2 * self.changes
        os.utime(place, (when, when))

    def _passes(self, tests: Sequence[str]) -> bool:
        command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
        environment = {**os.environ, "PYTHONPATH": str(self.folder)}
        try:
            done = subprocess.run(
                command,
                cwd=self.folder,
                env=environment,
                capture_output=True,
                timeout=SECONDS,
                check=False,
            )
        except subprocess.TimeoutExpired:
            return False
        if done.returncode not in (0, 1, 2):
            sys.exit(f"pytest ended with {done.returncode}: {done.stdout.decode()[-2000:]}")
        return done.returncode == 0


def main() -> int:
    """Run as a command; 1 if a mutant survived, or could not be tried."""
    options = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    options.add_argument("words", nargs="*")
    options.add_argument("--out", type=Path)
    given = options.parse_args()
    chosen = [m for m in MUTANTS if all(word in m.words for word in given.words)]
    counts, told = Counter[str](), []
    known = given.out is not None and given.out.exists() and json.loads(given.out.read_text())
    killed = {x["mutant"] for x in known or () if x["outcome"] == "killed"}
    with tempfile.TemporaryDirectory() as folder:
        copy = Copy(Path(folder))
        for mutant in chosen:
            outcome = "killed" if mutant.words in killed else copy.outcome(mutant)
            counts[outcome] += 1
            told.append({"mutant": mutant.words, "outcome": outcome})
            killed.discard(mutant.words)
            sys.stdout.write(f"{outcome}: {mutant.words}\n")
            sys.stdout.flush()
            if given.out is not None:
                later = [{"mutant": words, "outcome": "killed"} for words in sorted(killed)]
                text = json.dumps([*told, *later], indent=1)
                given.out.write_text(text + "\n", encoding="utf-8")
    words = ", ".join(f"{n} {word}" for word, n in sorted(counts.items()))
    sys.stdout.write(f"{len(chosen)} mutants: {words}\n")
    return int(counts["killed"] < len(chosen))


if __name__ == "__main__":
    sys.exit(main())
