"""The one root finder: against scipy, on steps, and on what has no root."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from scipy.optimize import brentq

from springgeo.curve.root import bisect

# function, limits, and how well the root itself is defined
SMOOTH: list[tuple[Callable[[float], float], float, float, float]] = [
    (lambda x: 1 - x**3, 0.0, 5.0, 1e-14),
    (lambda x: math.cos(x) - x, 0.0, 1.5, 1e-14),
    (lambda x: 1e-9 - (x - 0.3), -4.0, 1.0, 1e-14),
    (lambda x: -math.tanh(40 * (x - 0.123)), -1.0, 1.0, 1e-14),
    (lambda x: (0.7 - x) ** 3, 0.0, 2.0, 1e-5),
    (lambda x: math.exp(-x) - 1e-6, 0.0, 50.0, 1e-8),
]


def counted(f: Callable[[float], float]) -> tuple[Callable[[float], float], list[float]]:
    asked: list[float] = []

    def call(x: float) -> float:
        asked.append(x)
        return f(x)

    return call, asked


@pytest.mark.parametrize(("f", "low", "high", "known"), SMOOTH)
def test_same_root_as_scipy(
    f: Callable[[float], float], low: float, high: float, known: float
) -> None:
    call, asked = counted(f)
    found = bisect(call, low, high)
    wanted = brentq(f, low, high, xtol=1e-15, rtol=1e-15, maxiter=500)
    assert found == pytest.approx(wanted, abs=known)
    assert f(found) == pytest.approx(0.0, abs=1e-14)
    assert low < min(asked)
    assert max(asked) < high


def test_a_smooth_root_takes_few_calls() -> None:
    call, asked = counted(lambda x: math.cos(x) - x)
    assert bisect(call, 0.0, 1.5) == pytest.approx(0.7390851332151607, abs=2e-16)
    assert len(asked) < 15


@pytest.mark.parametrize("edge", [0.0, 1 / 3, 0.9999, -2.5])
def test_a_step_is_found_as_by_halving(edge: float) -> None:
    call, asked = counted(lambda x: 1.0 if x < edge else -1.0)
    found = bisect(call, -3.0, 1.0)
    assert found == pytest.approx(edge, abs=1e-15)
    assert len(asked) <= 110


def test_without_a_root_the_limit_comes_back() -> None:
    assert bisect(lambda _x: 1.0, 0.0, 2.0) == pytest.approx(2.0)
    assert bisect(lambda _x: -1.0, 0.0, 2.0) == pytest.approx(0.0, abs=1e-15)
