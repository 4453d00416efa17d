"""Initial tension: inverse functions, and the published ranges against printed charts."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import initial_tension as it

indices = st.floats(min_value=4.0, max_value=16.0)

# ksi; Shigley low, middle, high; Norton low, high as printed, with K_s = 1 + 0.5/C, by index
TABLE = {
    4: (18.2, 22.0, 25.9, 17.7, 26.7),
    5: (16.1, 19.8, 23.5, 15.7, 24.4),
    6: (14.3, 17.8, 21.4, 13.9, 22.2),
    8: (11.2, 14.5, 17.7, 11.0, 18.4),
    10: (8.8, 11.7, 14.6, 8.7, 15.1),
    12: (6.9, 9.5, 12.1, 6.8, 12.2),
    14: (5.4, 7.7, 10.0, 5.2, 9.6),
    16: (4.2, 6.2, 8.2, 3.6, 7.1),
}


@pytest.mark.parametrize("C", TABLE)
def test_ranges_by_index(C: int) -> None:
    ksi = 1000 * it.MPA_PER_PSI
    low, middle, high, n_low, n_high = TABLE[C]
    shigley = [x / ksi for x in it.preferred_shigley(float(C))]
    assert shigley == pytest.approx([low, middle, high], abs=0.055)
    norton = it.preferred_norton(float(C))
    K_s = 1 + 0.5 / C
    assert [K_s * norton.low / ksi, K_s * norton.high / ksi] == pytest.approx(
        [n_low, n_high], abs=0.055
    )
    assert norton.middle == pytest.approx((norton.low + norton.high) / 2)


def test_norton_example_14_5() -> None:
    """Norton, Machine Design, Example 14-5 (read): C = 9, tau_i 13 237 psi, a stress with K_s."""
    d, C, printed = 0.177, 9.0, 13237.0
    force = np.pi * d**3 * printed / (8 * (1 + 0.5 / C) * C * d)  # lbf
    middle = it.preferred_norton(C).middle / it.MPA_PER_PSI
    assert it.F_i(middle, C * d, d) == pytest.approx(force, rel=1e-4)
    assert 1.05 * middle < printed


@given(indices, st.floats(min_value=1.001, max_value=1.5))
def test_ranges_fall_with_the_index(C: float, more: float) -> None:
    for form in (it.preferred_shigley, it.preferred_norton):
        here = form(C)
        assert 0 < here.low < here.middle < here.high
        if C * more <= it.INDEX_HIGH:
            assert all(b < a for a, b in zip(here, form(C * more), strict=True))
    assert it.tau_0_JIS(C * more, 81500.0) < it.tau_0_JIS(C, 81500.0)


def test_jis_form_at_index_8() -> None:
    """JIS B 2704-1 at C = 8, G = 81.5 GPa: 102 MPa; the exponential form 99.7."""
    assert it.tau_0_JIS(8.0, 81500.0) == pytest.approx(102, abs=0.5)
    assert it.preferred_shigley(8.0).middle == pytest.approx(99.7, abs=0.05)


@given(st.floats(0.01, 1e3), indices, st.floats(0.1, 16.0))
def test_force_and_stress_undo_each_other(F_i: float, C: float, d: float) -> None:
    assert it.F_i(it.tau_i(F_i, C * d, d), C * d, d) == pytest.approx(F_i, rel=1e-12)


def test_valid_index_includes_its_ends() -> None:
    C = np.array([3.99, 4.0, 9.0, 16.0, 16.01])
    np.testing.assert_array_equal(it.valid_index(C), [False, True, True, True, False])
    assert it.valid_index(8.0)


def test_place_in_range() -> None:
    preferred = it.preferred_norton(9.0)
    assert [it.place_in_range(x, preferred) for x in preferred] == pytest.approx([0, 0.5, 1])
