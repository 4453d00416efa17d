"""Endurance strengths and factors: each factor lands on the line it stands for."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import endurance, fatigue

S_E, S_U = 267.0, 1223.0  # MPa: Shigley Example 10-7, rounded
stresses = st.floats(min_value=1.0, max_value=900.0)


@given(stresses, stresses)
def test_gerber_lands_on_its_parabola(s_a: float, s_m: float) -> None:
    n = fatigue.n_f_gerber(s_a, s_m, S_E, S_U)
    assert n * s_a / S_E + (n * s_m / S_U) ** 2 == pytest.approx(1.0, rel=1e-12)
    book = 0.5 * (S_U / s_m) ** 2 * (s_a / S_E)
    book *= -1 + (1 + (2 * s_m * S_E / (S_U * s_a)) ** 2) ** 0.5
    assert n == pytest.approx(book, rel=1e-6)


def test_gerber_at_the_ends_of_its_parabola() -> None:
    assert fatigue.n_f_gerber(100.0, 0.0, S_E, S_U) == pytest.approx(S_E / 100)
    assert fatigue.n_f_gerber(0.0, 100.0, S_E, S_U) == pytest.approx(S_U / 100)


@given(stresses, stresses)
def test_goodman_is_below_gerber_and_on_its_line(s_a: float, s_m: float) -> None:
    n = fatigue.n_f_goodman(s_a, s_m, S_E, S_U)
    assert n * s_a / S_E + n * s_m / S_U == pytest.approx(1.0, rel=1e-12)
    assert n < fatigue.n_f_gerber(s_a, s_m, S_E, S_U) * (1 + 1e-12) or n > 1


@given(st.floats(1.0, 400.0), st.floats(0.0, 800.0))
def test_norton_lands_on_goodman_with_the_least_load_fixed(s_a: float, s_min: float) -> None:
    n = fatigue.n_f_norton(s_a, s_min + s_a, s_min, S_E, S_U)
    assert n * s_a / S_E + (s_min + n * s_a) / S_U == pytest.approx(1.0, rel=1e-9)


@given(st.floats(1.0, 200.0), st.floats(0.0, 200.0), st.floats(0.0, 200.0))
def test_yield_line_is_the_rise_above_the_preload(tau_a: float, rise: float, tau_i: float) -> None:
    S_sy, tau_m = 820.0, tau_i + rise + tau_a
    r = fatigue.load_line_slope(tau_a, tau_m, tau_i)
    n = fatigue.n_y(fatigue.S_sa_y(r, S_sy, tau_i), tau_a)
    assert n == pytest.approx((S_sy - tau_i) / (tau_m + tau_a - tau_i), rel=1e-9)


@given(stresses, stresses)
def test_alternating_and_mean_rebuild_the_extremes(a: float, b: float) -> None:
    high, low = max(a, b), min(a, b)
    s_a, s_m = fatigue.alternating(high, low), fatigue.mean(high, low)
    assert (s_m + s_a, s_m - s_a) == pytest.approx((high, low))


@given(st.floats(100.0, 1000.0), st.floats(1100.0, 2500.0))
def test_a_strength_from_zero_is_its_own_gerber_limit(S_r: float, S_u: float) -> None:
    """A load from zero to S_r is just endured: factor 1 with the strength derived from S_r."""
    S_e = endurance.S_e_from_repeated(S_r, S_u)
    assert fatigue.n_f_gerber(S_r / 2, S_r / 2, S_e, S_u) == pytest.approx(1.0, rel=1e-12)
    S_es = endurance.S_es_norton(S_r, S_u)
    assert S_es == pytest.approx(endurance.S_e_goodman(S_r / 2, S_r / 2, S_u), rel=1e-12)
    assert fatigue.n_f_goodman(S_r / 2, S_r / 2, S_es, S_u) == pytest.approx(1.0, rel=1e-12)


def test_published_strengths_in_both_units() -> None:
    """Zimmerli 35/55 and 57.5/77.5 kpsi; Norton 45 and 67.5 kpsi: the metric figures are rounded.

    The peened 57.5 kpsi is 396.5 MPa, printed as 398: 0.4 % off.
    """
    kpsi = 6.894757
    assert endurance.zimmerli() == pytest.approx((35 * kpsi, 55 * kpsi), rel=2e-3)
    assert endurance.zimmerli(peened=True) == pytest.approx((57.5 * kpsi, 77.5 * kpsi), rel=5e-3)
    assert endurance.S_ew_norton() == pytest.approx(45 * kpsi, rel=2e-3)
    assert endurance.S_ew_norton(peened=True) == pytest.approx(67.5 * kpsi, rel=2e-3)


@given(st.floats(900.0, 3000.0))
def test_goodman_credits_more_endurance_than_gerber_and_bending_more_than_shear(
    S_ut: float,
) -> None:
    S_su = endurance.S_su(S_ut)
    S_sa, S_sm = endurance.zimmerli()
    S_se = endurance.S_e_gerber(S_sa, S_sm, S_su)
    assert S_sa < S_se < endurance.S_e_goodman(S_sa, S_sm, S_su)
    assert endurance.S_e_bending(S_se) > endurance.S_e_bending_norton(S_se) > S_se


def test_ratios_of_the_books() -> None:
    """Shigley eq. 10-30; Norton ch. 14."""
    assert endurance.S_su(1000.0) == pytest.approx(670.0)
    assert endurance.S_e_bending_norton(670.0) == pytest.approx(1000.0)
