"""Dynamics: frequency against a spring of many masses, energy."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import dynamics, rate

RHO = 7.85e-6  # kg/mm^3, carbon steel


@given(st.floats(0.2, 10.0), st.floats(4.0, 16.0), st.floats(3.0, 100.0))
def test_standard_form_is_the_general_form(d: float, C: float, n: float) -> None:
    G, D = 81500.0, C * d
    k, m = rate.rate(G, D, d, n), dynamics.active_wire_mass(D, d, n, RHO)
    assert dynamics.f_e_EN(D, d, n, G, RHO) == pytest.approx(dynamics.f_both_held(k, m), rel=4e-4)
    assert dynamics.f_both_held(k, m) == pytest.approx(2 * dynamics.f_one_free(k, m), rel=1e-14)


@pytest.mark.parametrize("free", [False, True])
def test_frequency_is_that_of_a_chain_of_masses(free: bool) -> None:
    k, m, links = 2.0, 0.05, 400  # N/mm, kg
    stiff = np.zeros((links + 1, links + 1))
    for i in range(links):
        stiff[i : i + 2, i : i + 2] += 1000.0 * k * links * np.array([[1.0, -1.0], [-1.0, 1.0]])
    mass = np.full(links + 1, m / links)
    mass[[0, -1]] /= 2
    keep = slice(1, links + 1 if free else links)
    root = np.sqrt(mass[keep])
    lowest = np.linalg.eigvalsh(stiff[keep, keep] / np.outer(root, root))[0]
    f = (dynamics.f_one_free if free else dynamics.f_both_held)(k, m)
    assert f == pytest.approx(np.sqrt(lowest) / (2 * np.pi), rel=1e-4)


@given(st.floats(0.0, 100.0), st.floats(0.1, 100.0), st.floats(0.1, 100.0))
def test_energy_is_the_area_under_the_load_line(F_i: float, rise: float, k: float) -> None:
    F = F_i + rise
    y = np.linspace(0.0, float(rate.deflection(F, F_i, k)), 101)
    area = np.trapezoid(F_i + k * y, y)
    assert dynamics.stored_energy(F, F_i, y[-1]) == pytest.approx(area, rel=1e-9)


def test_frequencies_need_open_coils() -> None:
    np.testing.assert_array_equal(dynamics.coils_open(np.array([5.0, 9.0, 12.0]), 9.0), [0, 0, 1])
