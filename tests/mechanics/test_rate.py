"""Rate: three counts of active coils, the load line and its inverse, the rigid part."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import rate

forces = st.floats(min_value=0.0, max_value=1e4)
rates = st.floats(min_value=1e-3, max_value=1e3)


def test_conventions_of_active_coils() -> None:
    assert rate.N_a_modulus_ratio(20.0, 79.3, 197.2) == pytest.approx(20.402, abs=5e-4)
    assert rate.N_a_half_coil_per_hook(20.0) == 21.0
    assert rate.N_a_half_coil_per_hook(20.0, hooks=1.0) == 20.5
    assert rate.n_EN(20.0) == 20.0
    assert rate.n_EN(20.0, n_inactive=6.0) == 14.0


@given(forces, forces, rates)
def test_rigid_below_the_initial_tension(F: float, F_i: float, k: float) -> None:
    y = rate.deflection(F, F_i, k)
    if F_i >= F:
        assert y == 0.0
        assert rate.length_at_load(F, 50.0, F_i, k) == 50.0
    else:
        assert F_i + k * y == pytest.approx(F, rel=1e-9)
        assert rate.length_at_load(F, 50.0, F_i, k) == pytest.approx(50.0 + y, rel=1e-12)


@given(rates, st.floats(4.0, 16.0), st.floats(0.1, 20.0), st.floats(1.01, 2.0))
def test_rate_goes_with_the_fourth_and_third_power(
    N_a: float, C: float, d: float, more: float
) -> None:
    G, D = 80000.0, C * d
    k = rate.rate(G, D, d, N_a)
    assert rate.rate(G, D, d * more, N_a) == pytest.approx(k * more**4, rel=1e-12)
    assert rate.rate(G, D * more, d, N_a) == pytest.approx(k / more**3, rel=1e-12)
    assert rate.rate(G, D, d, N_a * more) < k
    assert rate.N_a_for_rate(G, D, d, k) == pytest.approx(N_a, rel=1e-12)


def test_coils_share_the_deflection() -> None:
    G, D, d, N_a = 80000.0, 16.0, 2.0, 20.4
    whole = rate.deflection(100.0, 20.0, rate.rate(G, D, d, N_a))
    one = rate.deflection_per_coil(100.0, 20.0, G, D, d)
    assert one * N_a == pytest.approx(whole, rel=1e-13)
