"""A few springs of every question, seeded; the command examines as many as it is told to."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from . import QUESTIONS
from .compared import Compared

# one spring each that has something to say: a length given, inches, an end that holds a fitting;
# to ask what a dimension that strays does takes a spring for each
SEEDS = {
    "columns": [3],
    "straying": [6],
    "bench": [4],
    "bodies": [10],
    "mating": [6],
    "mounted": [12],
    "page": [3],
    "worked": [2],
    "note": [6],
    "size": [5],
}


@pytest.mark.parametrize(
    "name", [pytest.param(n, marks=[pytest.mark.slow] * (n == "straying")) for n in SEEDS]
)
def test_what_is_told_is_what_is_found_another_way(name: str, tmp_path: Path) -> None:
    told = Compared()
    for seed in SEEDS[name]:
        told.seed = seed
        QUESTIONS[name](np.random.default_rng([41, seed]), told, tmp_path)
    assert told.found
    assert not told.failed, "\n".join(told.lines())


def test_every_question_is_asked() -> None:
    assert list(SEEDS) == list(QUESTIONS)


def test_what_disagrees_is_told() -> None:
    told = Compared(seed=7)
    told.number("near", 1.0, 1.0005, 1e-3)
    assert not told.failed
    told.number("far", 1.0, 1.1, 1e-3)
    told.number("missing", None, 1.0, 1e-3)
    told.same("words", "a", "b")
    assert set(told.failed) == {"far", "missing", "words"}
    assert "seed 7" in told.failed["far"][0]
    assert any("far" in line and "<--" in line for line in told.lines())
