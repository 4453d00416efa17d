"""Static limits: fractions, margins and the load they allow."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import strategies as st

from springgeo.mechanics import static_limits

positive = st.floats(min_value=0.1, max_value=5000.0)


def test_fractions_of_the_tensile_strength() -> None:
    """Shigley Table 10-7, carbon steel."""
    found = [static_limits.allowable(share, 2000.0) for share in (0.45, 0.75, 0.40)]
    assert found == pytest.approx([900, 1500, 800])
    assert static_limits.tau_zul_EN(2000.0) == pytest.approx(900)


def test_no_stress_is_an_infinite_margin() -> None:
    assert static_limits.margin(900.0, 0.0) == np.inf
    np.testing.assert_array_equal(static_limits.margin(900.0, np.array([0.0, 450.0])), [np.inf, 2])
