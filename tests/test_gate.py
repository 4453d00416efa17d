"""What the gate is made of: the longest first, every value of a thinned grid, no lost test."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.conftest import LONG
from tests.gate import thinned
from tests.mutation.mutants import MUTANTS

ROOT = Path(__file__).parents[1]


def test_the_longest_files_are_there() -> None:
    assert [name for name in LONG if not (ROOT / "tests" / name).is_file()] == []


@pytest.mark.parametrize(
    ("every", "sizes"),
    [(2, (16, 3)), (3, (25, 3)), (3, (4, 3, 2)), (4, (2, 7, 3)), (6, (25, 6, 3))],
)
def test_every_value_of_a_thinned_grid_is_in_the_gate(every: int, sizes: tuple[int, ...]) -> None:
    cases = thinned(every, *(range(n) for n in sizes))
    kept = [c.values for c in cases if not c.marks]
    assert 0 < len(kept) <= -(-len(cases) // every) + 1
    for axis, n in enumerate(sizes):
        assert {values[axis] for values in kept} == set(range(n))


def test_mutants_ask_tests_that_the_gate_runs() -> None:
    """A mutant that names one test alone names one that is there, and not slow."""
    for name in sorted({t for m in MUTANTS for t in m.tests if "::" in t}):
        file, _, test = name.partition("::")
        text = (ROOT / file).read_text("utf-8")
        found = re.search(
            rf"((?:^@.*\n(?:^[ )\]].*\n)*)*)^def {test.partition('[')[0]}\(", text, re.M
        )
        assert found, name
        assert not re.search(r"^@pytest\.mark\.slow", found[1], re.M), name
