"""The list of mutants is alive: enough of them fit the package's text, and are Python."""

from __future__ import annotations

from pathlib import Path

import pytest

from .mutants import MUTANTS

ROOT = Path(__file__).resolve().parents[2]
LEAST = 80


def test_enough_mutants_fit() -> None:
    texts = {m.file: (ROOT / m.file).read_text(encoding="utf-8") for m in MUTANTS}
    assert sum(texts[m.file].count(m.old) == 1 for m in MUTANTS) >= LEAST


@pytest.mark.parametrize("file", sorted({m.file for m in MUTANTS}))
def test_mutants_are_changes_that_compile(file: str) -> None:
    text = (ROOT / file).read_text(encoding="utf-8")
    for mutant in (m for m in MUTANTS if m.file == file):
        assert mutant.new != mutant.old
        compile(text.replace(mutant.old, mutant.new), file, "exec")
        assert all((ROOT / tests.partition("::")[0]).exists() for tests in mutant.tests)
