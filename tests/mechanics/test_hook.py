"""Hooks: factors at A and B, inner radii, and the compliance estimate against finite elements."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import body, hook

indices = st.floats(min_value=1.5, max_value=30.0)


@given(indices, st.floats(min_value=1.001, max_value=2.0))
def test_factors_fall_with_the_radius_towards_one(C: float, more: float) -> None:
    for factor in (hook.K_A, hook.K_B):
        assert 1.0 < factor(C * more) < factor(C)
        assert factor(1e9) == pytest.approx(1.0, abs=1e-8)


@given(st.floats(min_value=0.1, max_value=20.0), indices)
def test_full_round_loop_has_the_index_of_the_body(d: float, C: float) -> None:
    D = C * d
    assert hook.bend_index(D / 2, d) == pytest.approx(body.spring_index(D, d), rel=1e-14)


def test_sigma_A_is_bending_plus_pull() -> None:
    F, D, d = 10.0, 16.0, 2.0
    bending = F * D / 2 * (d / 2) / (np.pi * d**4 / 64)
    assert hook.sigma_A(F, D, d, 1.1) == pytest.approx(1.1 * bending + F / (np.pi * d**2 / 4))


def test_tau_B_is_the_body_with_another_factor() -> None:
    K_B = hook.K_B(hook.bend_index(4.0, 2.0))
    assert hook.tau_B(10.0, 16.0, 2.0, K_B) == pytest.approx(
        body.tau_corrected(10.0, 16.0, 2.0, K_B)
    )
