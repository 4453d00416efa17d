"""Body: what the factors are to each other, and shear stress against its inverse."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import body

indices = st.floats(min_value=3.0, max_value=30.0)
sizes = st.floats(min_value=0.05, max_value=20.0)
forces = st.floats(min_value=0.01, max_value=1e4)


def test_wahl_over_bergstraesser() -> None:
    """Shigley, answer to Problem 10-1: 0.74 % of K_W at C = 12, 1.36 % at C = 4."""
    for C, percent in ((12.0, 0.74), (4.0, 1.36)):
        assert 100 * (1 - body.K_B(C) / body.K_W(C)) == pytest.approx(percent, abs=0.005)


@given(indices)
def test_order_of_the_factors(C: float) -> None:
    assert body.K_W(C) > body.K_B(C) > body.K_s(C) > 1.0


@given(indices)
def test_en_factor_is_bergstraesser(C: float) -> None:
    assert body.k_EN(C) == pytest.approx(body.K_B(C), rel=1e-14)


@given(indices, st.floats(min_value=1.001, max_value=2.0))
def test_factors_fall_with_the_index(C: float, more: float) -> None:
    for factor in (body.K_W, body.K_B, body.K_s, body.k_EN):
        assert factor(C * more) < factor(C)


@given(forces, sizes, indices)
def test_force_at_tau_undoes_tau(F: float, d: float, C: float) -> None:
    tau = body.tau_corrected(F, C * d, d, body.K_B(C))
    assert body.force_at_tau(tau, C * d, d, body.K_B(C)) == pytest.approx(F, rel=1e-12)
    assert body.spring_index(C * d, d) == pytest.approx(C, rel=1e-14)


@given(forces, sizes, indices, st.floats(min_value=1.01, max_value=3.0))
def test_stress_rises_with_force_and_coil_and_falls_with_wire(
    F: float, d: float, C: float, more: float
) -> None:
    D = C * d
    tau = body.tau_uncorrected(F, D, d)
    assert body.tau_uncorrected(F * more, D, d) > tau
    assert body.tau_uncorrected(F, D * more, d) > tau
    assert body.tau_uncorrected(F, D, d * more) < tau


def test_stress_is_that_of_a_twisted_bar() -> None:
    F, D, d = 10.0, 16.0, 2.0
    J = np.pi * d**4 / 32
    assert body.tau_uncorrected(F, D, d) == pytest.approx(F * D / 2 * d / 2 / J, rel=1e-14)


def test_direct_shear_factor() -> None:
    """Norton eq. 14.8b."""
    assert body.K_s(8.0) == pytest.approx(1.0625, rel=1e-14)
