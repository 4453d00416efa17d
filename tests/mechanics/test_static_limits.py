"""Static limits: fractions, margins and the load they allow."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import static_limits

positive = st.floats(min_value=0.1, max_value=5000.0)


def test_fractions_of_the_tensile_strength() -> None:
    """Shigley Table 10-7, carbon steel."""
    assert static_limits.allowables(2000.0, 0.45, 0.75, 0.40) == pytest.approx((900, 1500, 800))
    assert static_limits.tau_zul_EN(2000.0) == pytest.approx(900)


@given(positive, positive, st.floats(0.5, 3.0))
def test_margin_limit_and_reserve_agree(allowed: float, stress: float, required: float) -> None:
    n = static_limits.margin(allowed, stress)
    limit = static_limits.force_limit(10.0, n, required)
    at_limit = static_limits.margin(allowed, stress * limit / 10.0)
    assert at_limit == pytest.approx(required, rel=1e-12)
    assert static_limits.force_limit(10.0, n) == pytest.approx(limit * required)
    assert static_limits.reserve(at_limit, required) == pytest.approx(0.0, abs=1e-12)
    assert bool(static_limits.passes(n, required)) == (n >= required)


def test_no_stress_is_an_infinite_margin() -> None:
    assert static_limits.margin(900.0, 0.0) == np.inf
    np.testing.assert_array_equal(static_limits.margin(900.0, np.array([0.0, 450.0])), [np.inf, 2])


def test_governing_is_the_least() -> None:
    worst = static_limits.governing(np.array([1.5, 2.0]), np.array([1.4, 3.0]), 1.9)
    np.testing.assert_array_equal(worst.margin, [1.4, 1.9])
    np.testing.assert_array_equal(worst.which, [1, 2])
    assert static_limits.governing(1.5, 1.2).margin == 1.2
