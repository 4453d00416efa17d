"""Many designs at once give what single functions give for each."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import body, design, hook, rate
from springgeo.mechanics.static_limits import Allowables


def single(**x: float) -> dict[str, float]:
    """Return the check of one design by plain arithmetic."""
    C = x["D"] / x["d"]
    C_1, C_2 = 2 * x["r_1"] / x["d"], 2 * x["r_2"] / x["d"]
    tau = 8 * x["F"] * x["D"] / (np.pi * x["d"] ** 3)
    k = x["G"] * x["d"] ** 4 / (8 * x["D"] ** 3 * x["N_a"])
    K_A = (4 * C_1**2 - C_1 - 1) / (4 * C_1 * (C_1 - 1))
    out = {
        "C": C,
        "C_1": C_1,
        "C_2": C_2,
        "tau_body": tau * (4 * C + 2) / (4 * C - 3),
        "sigma_A": 2 * tau * K_A + x["F"] / (np.pi * x["d"] ** 2 / 4),
        "tau_B": tau * (4 * C_2 - 1) / (4 * C_2 - 4),
        "k": k,
        "y": max(x["F"] - x["F_i"], 0.0) / k,
    }
    out["n_body"] = 900.0 / out["tau_body"]
    out["n_A"] = 1500.0 / out["sigma_A"]
    out["n_B"] = 800.0 / out["tau_B"]
    out["n"] = min(out["n_body"], out["n_A"], out["n_B"])
    return out


def designs(count: int) -> dict[str, Any]:
    rng = np.random.default_rng(7)
    d = rng.uniform(0.5, 5.0, count)
    D = d * rng.uniform(4.0, 16.0, count)
    return {
        "F": rng.uniform(1.0, 500.0, count),
        "F_i": rng.uniform(0.0, 100.0, count),
        "D": D,
        "d": d,
        "r_1": D / 2,
        "r_2": d * rng.uniform(1.0, 4.0, count),
        "N_a": rng.uniform(3.0, 60.0, count),
        "G": 81500.0,
    }


@pytest.mark.parametrize("count", [1, 50, design.CHUNK, design.CHUNK + 1, 3 * design.CHUNK + 17])
def test_array_equals_single_designs(count: int) -> None:
    x = designs(count)
    many = design.evaluate(**x, allowable=Allowables(900.0, 1500.0, 800.0))
    for i in {0, count // 2, count - 1}:
        one = single(**{name: float(np.broadcast_to(v, count)[i]) for name, v in x.items()})
        for name, value in many._asdict().items():
            assert value.shape == (count,)
            assert value[i] == pytest.approx(one[name], rel=1e-12), name


def test_a_grid_broadcasts_and_chunks_do_not_show() -> None:
    x = designs(200)
    x["F"] = np.linspace(10.0, 400.0, 90)[:, None]
    x["G"] = 81500
    a = Allowables(900, np.linspace(1400.0, 1600.0, 200), 800.0)
    grid = design.evaluate(**x, allowable=a)
    x["F"] = float(x["F"][33, 0])
    row = design.evaluate(**x, allowable=a)
    for name, value in grid._asdict().items():
        assert value.shape == (90, 200)
        np.testing.assert_allclose(value[33], getattr(row, name), rtol=1e-14)


def test_one_design_is_a_plain_number_and_the_body_factor_can_be_changed() -> None:
    x: dict[str, Any] = {
        name: (v if np.ndim(v) == 0 else float(v[0])) for name, v in designs(1).items()
    }
    a = Allowables(900.0, 1500.0, 800.0)
    bergstraesser = design.evaluate(**x, allowable=a)
    wahl = design.evaluate(**x, allowable=a, K=body.K_W)
    assert bergstraesser.C.shape == ()
    C = float(bergstraesser.C)
    assert wahl.tau_body / bergstraesser.tau_body == pytest.approx(body.K_W(C) / body.K_B(C))
    assert float(wahl.tau_B) == float(bergstraesser.tau_B)


@given(
    st.lists(
        st.tuples(st.floats(1.0, 900.0), st.floats(0.1, 9.0), st.floats(4.0, 16.0)), min_size=1
    )
)
def test_functions_of_arrays_equal_functions_of_numbers(
    rows: list[tuple[float, float, float]],
) -> None:
    F, d, C = (np.array(column) for column in zip(*rows, strict=True))
    arrays: tuple[Any, ...] = (
        body.tau_corrected(F, C * d, d, body.K_W(C)),
        hook.sigma_A(F, C * d, d, hook.K_A(C)),
        hook.tau_B(F, C * d, d, hook.K_B(C)),
        rate.rate(80000.0, C * d, d, 10.0),
        rate.deflection(F, 50.0, rate.rate(80000.0, C * d, d, 10.0)),
    )
    for i, (f, w, c) in enumerate(rows):
        numbers = (
            body.tau_corrected(f, c * w, w, body.K_W(c)),
            hook.sigma_A(f, c * w, w, hook.K_A(c)),
            hook.tau_B(f, c * w, w, hook.K_B(c)),
            rate.rate(80000.0, c * w, w, 10.0),
            rate.deflection(f, 50.0, rate.rate(80000.0, c * w, w, 10.0)),
        )
        assert [a[i] for a in arrays] == pytest.approx(list(numbers), rel=1e-13)
