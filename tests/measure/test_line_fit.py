from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm, t

from springgeo.errors import SpecError
from springgeo.measure.line_fit import Line, fit_line, normal, student

RATE, TENSION, FREE = 1.3, 7.0, 50.0
U_LENGTH, U_LOAD, U_FREE = 0.08, 0.05, 0.04


def invented(rng: np.random.Generator, scatter: float = 1.0) -> Line:
    """Readings of a known spring, some below the knee, with errors of length and load."""
    # where the scatter is more than the rig claims, only readings that are surely above the knee
    below = 3 if scatter == 1.0 else 0
    true = np.concatenate([np.full(below, FREE), np.linspace(51, 70, 12)])
    load = np.where(true > FREE, TENSION + RATE * (true - FREE), TENSION * 0.6)
    length = true + rng.normal(0, U_LENGTH * scatter, true.size)
    load = load + rng.normal(0, U_LOAD * scatter, true.size)
    free = FREE + rng.normal(0, U_FREE)
    return fit_line(length, load, (free, U_FREE), (U_LENGTH, U_LOAD))


@pytest.mark.parametrize(("dof", "confidence"), [(1, 0.95), (2, 0.95), (5, 0.99), (30, 0.9)])
def test_student(dof: int, confidence: float) -> None:
    assert student(confidence, dof) == pytest.approx(t.ppf((1 + confidence) / 2, dof), rel=1e-5)


@pytest.mark.parametrize("confidence", [0.5, 0.9, 0.95, 0.99])
def test_normal(confidence: float) -> None:
    assert normal(confidence) == pytest.approx(norm.ppf((1 + confidence) / 2), rel=1e-12)


def test_scatter_is_that_of_the_residuals_over_two_fewer_readings() -> None:
    rng = np.random.default_rng(3)
    x = np.linspace(55, 70, 5)
    y = TENSION + RATE * (x - FREE) + rng.normal(0, 1.0, x.size)
    line = fit_line(x, y, (FREE, U_FREE), (U_LENGTH, U_LOAD))
    rate, tension = np.polyfit(x - FREE, y, 1)
    left = y - tension - rate * (x - FREE)
    u = np.hypot(U_LOAD, rate * U_LENGTH)
    assert line.scatter == pytest.approx(np.sqrt((left**2).sum() / (x.size - 2)) / u, rel=1e-9)


@pytest.mark.parametrize("scatter", [1.0, 3.0])
def test_intervals_cover_the_truth_as_often_as_they_say(scatter: float) -> None:
    rng = np.random.default_rng(7)
    lines = [invented(rng, scatter) for _ in range(1000)]
    rate = np.mean([x.rate.low <= RATE <= x.rate.high for x in lines])
    tension = np.mean([x.tension.low <= TENSION <= x.tension.high for x in lines])
    # 1000 draws: three standard deviations are 2.1 %
    assert 0.925 <= rate <= 0.985
    assert 0.925 <= tension <= 0.985
    assert np.mean([x.rate.value for x in lines]) == pytest.approx(RATE, rel=2e-3)


def test_readings_below_the_knee_are_left_out() -> None:
    line = invented(np.random.default_rng(1))
    assert line.used.tolist() == [False] * 3 + [True] * 12
    assert abs(line.bend) < 4
    assert line.scatter < 2


def test_a_bent_line_is_seen() -> None:
    x = np.linspace(51, 70, 12)
    y = TENSION + RATE * (x - FREE) - 0.01 * (x - FREE) ** 2
    assert fit_line(x, y, (FREE, U_FREE), (U_LENGTH, U_LOAD)).bend < -4


def test_refusals() -> None:
    x, u = np.array([50.0, 50.1, 60.0]), (U_LENGTH, U_LOAD)
    with pytest.raises(SpecError, match="too-few-pulls"):
        fit_line(x, x, (FREE, U_FREE), u)
    x = np.array([55.0, 60.0, 65.0])
    with pytest.raises(SpecError, match="pulls-falling"):
        fit_line(x, -x + 100, (FREE, U_FREE), u)
