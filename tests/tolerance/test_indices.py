"""Sobol' indices against a function whose indices are published, and against SALib."""

from __future__ import annotations

import numpy as np
import pytest
from SALib.analyze import sobol as analyse
from SALib.sample import sobol as sample

from springgeo.mechanics.value import Array
from springgeo.specification.tolerances import Tolerances
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.indices import estimated, indices
from springgeo.tolerance.inputs import inputs
from tests.tolerance.closed import uncorrected

COUNT = 1 << 12


def _ishigami(u: Array) -> Array:
    x = np.pi * (2 * u - 1)
    return np.atleast_2d(np.sin(x[0]) + 7 * np.sin(x[1]) ** 2 + 0.1 * x[2] ** 4 * np.sin(x[0]))


def test_ishigamis_function() -> None:
    # a = 7, b = 0.1: T. Ishigami and T. Homma, 1990; indices as in A. Saltelli et al., Global
    # Sensitivity Analysis, 2008, and in SALib's documentation
    found = indices(_ishigami, 3, COUNT, 1)
    assert found.first[:, 0] == pytest.approx([0.3139, 0.4424, 0.0], abs=0.012)
    assert found.total[:, 0] == pytest.approx([0.5576, 0.4424, 0.2437], abs=0.012)


def test_the_estimators_are_salibs() -> None:
    rng = np.random.default_rng(3)
    A, B = rng.random((2, 4, 500))
    f = _ishigami(A[:3]) + A[3], _ishigami(B[:3]) + B[3]
    mixed = []
    for i in range(4):
        AB = A.copy()
        AB[i] = B[i]
        mixed.append(_ishigami(AB[:3]) + AB[3])
    found = estimated(*f, mixed)
    mean = np.concatenate(f, axis=1).mean()
    a, b = (x[0] - mean for x in f)
    for i, ab in enumerate(mixed):
        first = analyse.first_order(a, ab[0] - mean, b)
        total = analyse.total_order(a, ab[0] - mean, b)
        assert found.first[i, 0] == pytest.approx(float(first), rel=1e-9)
        assert found.total[i, 0] == pytest.approx(float(total), rel=1e-9)


def test_indices_of_a_spring_are_those_salib_finds(book: Handbook) -> None:
    # wide, so that dimensions act together
    wide = tuple(x.widened(8.0) for x in inputs(book, Tolerances()))
    every, answers = uncorrected(book, wide, distribution="uniform")
    found = every.indices(answers, dict.fromkeys(answers, 0.0))
    problem = {
        "num_vars": len(wide),
        "names": [x.name for x in wide],
        "bounds": [[x.low, x.high] for x in wide],
    }
    rows = sample.sample(problem, COUNT, calc_second_order=False, seed=5)
    off = {x.name: column for x, column in zip(wide, rows.T, strict=True)}
    values, wrong = every.model.values(off, answers)
    for n, value in enumerate(values):
        theirs = analyse.analyze(
            problem, np.where(wrong, 0.0, value), calc_second_order=False, seed=5, num_resamples=10
        )
        assert found.first[:, n] == pytest.approx(theirs["S1"], abs=0.03)
        assert found.total[:, n] == pytest.approx(theirs["ST"], abs=0.03)


def test_what_does_not_vary_has_no_index() -> None:
    found = indices(lambda u: np.array([u[0], np.ones(u.shape[1])]), 2, 64, 1)
    assert found.total[:, 1].tolist() == [0, 0]
    assert found.total[:, 0] == pytest.approx([1, 0], abs=0.15)
