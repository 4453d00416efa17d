"""Published and constructed examples printed in mm, N and MPa, figure by figure."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from springgeo.mechanics import body, dynamics, initial_tension, length, rate, static_limits
from tests.verification import Of

Load = Callable[[str], Any]


def test_bhandari_example_10_5(example: Load) -> None:
    """Bhandari, Design of Machine Elements, Example 10.5; printed to seven digits."""
    e = example("bhandari-10-5")
    i = e.inputs
    K = body.K_W(i["C"])
    assert Of(K, "K_Wahl, as worked") == pytest.approx(1.2525, rel=1e-6)
    d_calc = (8 * K * i["P"] * i["C"] / (np.pi * 0.5 * i["Sut"])) ** 0.5
    force = body.force_at_tau(0.5 * i["Sut"], i["C"] * d_calc, d_calc, K)
    assert Of(force, "force at the permitted stress, N") == pytest.approx(i["P"])
    d = float(e.published["d"])
    D = i["C"] * d
    k_required = i["P"] / i["delta"]
    N = rate.N_a_for_rate(i["G"], D, d, k_required)
    for name, value in (
        ("K_Wahl", K),
        ("d_calc", d_calc),
        ("d", d),
        ("D", D),
        ("N_calc", N),
        ("N", float(round(float(N)))),
        ("k_required", k_required),
        ("k_actual", rate.rate(i["G"], D, d, 22)),
    ):
        e.check(name, value)
    e.all_checked()


def test_en_style_regression(example: Load) -> None:
    """Constructed by the project from EN 13906-2 formulas: regression only, nothing published."""
    e = example("en-style-constructed")
    i = e.inputs
    d, D, rho = i["d"], i["D"], 7.85e-6
    w = body.spring_index(D, d)
    n = rate.n_EN(i["nt"])
    assert n == i["n"]
    R = rate.rate(i["G"], D, d, n)
    tau_zul = static_limits.tau_zul_EN(i["Rm_min"])
    s = rate.deflection(i["F2"], i["F0"], R)
    L_K = length.body_length(n, d)
    L_H = i["LH_over_Di"] * (D - d)
    L_0 = length.free_length(L_K, L_H, L_H)
    for name, value in (
        ("w", w),
        ("k", body.k_EN(w)),
        ("R", R),
        ("tau0", initial_tension.tau_i(i["F0"], D, d)),
        ("tau2", body.tau_uncorrected(i["F2"], D, d)),
        ("tau_k2", body.tau_corrected(i["F2"], D, d, body.k_EN(w))),
        ("tau_zul", tau_zul),
        ("F_at_tau_zul", body.force_at_tau(tau_zul, D, d)),
        ("s2", s),
        ("LK", L_K),
        ("L0", L_0),
        ("L2", rate.length_at_load(i["F2"], L_0, i["F0"], R)),
        ("W", dynamics.stored_energy(i["F2"], i["F0"], s)),
        ("fe_hz_fixed_fixed", dynamics.f_e_EN(D, d, n, i["G"], rho)),
    ):
        e.check(name, value)
    e.all_checked()
