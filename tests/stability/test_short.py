"""A few seeds of every trial; the full counts are runs of the modules themselves."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from tests.gate import thinned

from . import (
    ends,
    families,
    heeded,
    jobs,
    known_jobs,
    materials,
    mating,
    nearby,
    readings,
    solids,
    specifications,
    tolerances,
    ways_out,
)
from .trials import NotFiniteError, Trial, every, outcome, require_finite

TRIALS = {
    "ends": ends.trial,
    "jobs": jobs.trial,
    "readings": readings.trial,
    "families": families.trial,
    "materials": materials.trial,
    "mating": mating.trial,
}


@pytest.mark.parametrize(("name", "seed"), thinned(5, list(TRIALS), range(9)))
def test_every_trial_ends_well(name: str, seed: int, tmp_path: Path) -> None:
    end, what = outcome(TRIALS[name], seed, tmp_path)
    assert end in ("answered", "refused"), what


@pytest.mark.parametrize("seed", thinned(2, [0, 1, 2, 3, 24, 25]))
def test_every_solid_reads_back(seed: int, tmp_path: Path) -> None:
    end, what = outcome(solids.trial, seed, tmp_path)
    assert end == "answered", what


@pytest.mark.parametrize("seed", thinned(4, range(40)))
def test_every_specification_is_refused_or_whole(seed: int, tmp_path: Path) -> None:
    end, what = outcome(specifications.trial, seed, tmp_path)
    assert end in ("answered", "refused"), what


@pytest.mark.parametrize("seed", [13, 26, 44])
def test_what_a_fit_tells_to_change_is_enough(seed: int, tmp_path: Path) -> None:
    end, what = outcome(heeded.trial, seed, tmp_path)
    assert end == "answered", what


@pytest.mark.parametrize("seed", [4, 7, 10, 16])
def test_every_tolerance_is_refused_or_answered(seed: int, tmp_path: Path) -> None:
    end, what = outcome(tolerances.trial, seed, tmp_path)
    assert end in ("answered", "refused"), what


def test_a_spring_that_there_is_is_found(tmp_path: Path) -> None:
    end, what = outcome(known_jobs.trial, 14, tmp_path)
    assert end == "answered", what


def test_what_is_told_to_be_enough_is_enough(tmp_path: Path) -> None:
    end, what = outcome(ways_out.trial, 108, tmp_path)
    assert end == "answered", what


@pytest.mark.parametrize(
    ("work", "end"),
    [
        (lambda: 1 / 0, "traceback"),
        (lambda: require_finite({"a": [1.0, float("nan")]}), "not finite"),
        (lambda: [None for _ in iter(int, 1)], "hang"),
    ],
)
def test_what_goes_wrong_is_seen(
    work: Trial, end: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tests.stability.trials.SECONDS", 0.05)
    found, _ = outcome(lambda _seed, _folder: bool(work()), 0, tmp_path)  # type: ignore[call-arg]
    assert found == end


def _mortal(seed: int, folder: Path) -> bool:
    """Be answered, or die as a kernel may."""
    if seed == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return True


def test_a_death_is_one_trial_and_the_others_are_run() -> None:
    found = list(every(_mortal, 0, 6, 1))
    assert sorted(seed for seed, _, _ in found) == [0, 1, 2, 3, 4, 5]
    assert {seed: end for seed, end, _ in found if end != "answered"} == {3: "death"}


def test_where_a_number_is_none() -> None:
    with pytest.raises(NotFiniteError, match=r"\.a\.1 is nan"):
        require_finite({"a": [1.0, float("nan")]})


@pytest.mark.parametrize("seed", [0, 1])
def test_numbers_hardly_change_where_the_input_hardly_does(seed: int, tmp_path: Path) -> None:
    end, what = outcome(nearby.trial, seed, tmp_path)
    assert end == "answered", what
