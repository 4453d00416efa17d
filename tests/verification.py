"""What the outside checks expect and find: run them, and write every comparison down.

``python -m tests.verification -o gallery/docs/verification.json`` runs the tests named below and
keeps each comparison they make (``pytest.approx``): expected, found, tolerance, and where the
expected value comes from. The documentation's verification manual is made of this file.
"""

from __future__ import annotations

import argparse
import inspect
import json
import math
import sys
from pathlib import Path
from typing import Any, Self

import pytest

ROOT = Path(__file__).parents[1]
# what is held against something from outside the project
CHECKS = (
    "tests/mechanics/test_published.py",
    "tests/mechanics/test_published_metric.py",
    "tests/published/test_finite_elements.py",
    "tests/published/test_finite_elements_other_ends.py",
    "tests/equilibrium/test_finite_elements.py",
    "tests/equilibrium/test_love.py",
    "tests/equilibrium/test_yardsticks.py",
)


class Of(float):
    """A number found, with what it is: ``assert Of(x, "rate, N/mm") == pytest.approx(y)``."""

    what: str

    def __new__(cls, value: float, what: str) -> Self:
        """Return the number."""
        made = super().__new__(cls, value)
        made.what = what
        return made


class Logged:
    """An expected value that writes down what it is compared with."""

    __array_ufunc__ = None
    __array_priority__ = 100
    __hash__ = None  # type: ignore[assignment]

    def __init__(self, inner: Any, log: Recorder) -> None:
        self.inner, self.log = inner, log

    def __eq__(self, found: object) -> bool:
        holds = bool(self.inner == found)
        self.log.keep(self.inner, found, holds)
        return holds

    def __ne__(self, found: object) -> bool:
        return not self == found

    def __repr__(self) -> str:
        return repr(self.inner)


class Recorder:
    """A plug-in of pytest that writes comparisons down, by test."""

    def __init__(self) -> None:
        self.rows: list[dict[str, Any]] = []
        self.item: Any = None
        self.plain = pytest.approx

    def pytest_runtest_setup(self, item: Any) -> None:
        self.item = item
        # tests reach it as an attribute of pytest
        pytest.approx = lambda *args, **how: Logged(self.plain(*args, **how), self)  # type: ignore[assignment]

    def pytest_runtest_teardown(self) -> None:
        pytest.approx = self.plain

    def keep(self, inner: Any, found: object, holds: bool) -> None:
        """Write a comparison of two numbers down."""
        try:
            expected, value = float(inner.expected), float(found)  # type: ignore[arg-type]
        except (TypeError, ValueError):
            return
        if not (math.isfinite(expected) and math.isfinite(value)):
            return
        node = self.item.nodeid.removeprefix("tests/")
        self.rows.append(
            {
                "test": node,
                "about": _first_line(self.item),
                "what": getattr(found, "what", None) or _named(),
                "expected": expected,
                "found": value,
                "tolerance": float(inner.tolerance),
                "holds": holds,
            }
        )


def _named() -> str:
    """Return what the comparison is of: the nearest ``name`` of the functions that make it."""
    frame = inspect.currentframe()
    while frame is not None and "pluggy" not in frame.f_code.co_filename:
        found = frame.f_locals.get("name")
        if isinstance(found, str):
            return found
        frame = frame.f_back
    return ""


def _first_line(item: Any) -> str:
    """Return where the expected values of a test come from: its docstring, or its file's."""
    own = (item.function.__doc__ or item.module.__doc__ or "").strip()
    return " ".join(own.split("\n\n")[0].split())


def main(arguments: list[str] | None = None) -> int:
    """Run the checks and write the file; return pytest's exit code."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("-o", "--out", default="verification.json")
    parser.add_argument("tests", nargs="*", default=CHECKS)
    asked = parser.parse_args(arguments)
    log = Recorder()
    options = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist", f"--rootdir={ROOT}"]
    code = pytest.main([*options, *(str(ROOT / t) for t in asked.tests)], plugins=[log])
    rows = sorted(log.rows, key=lambda r: r["test"])
    text = json.dumps({"comparisons": rows}, indent=1) + "\n"
    Path(asked.out).write_text(text, encoding="utf-8")
    sys.stdout.write(f"wrote {asked.out}: {len(rows)} comparisons\n")
    return int(code)


if __name__ == "__main__":
    sys.exit(main())
