from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm, qmc, truncnorm

from springgeo.api import Spring
from springgeo.sizing.answer.tolerance import Asked, spreads
from springgeo.sizing.search.halton import cut_normal, halton
from springgeo.summary import Summary
from springgeo.trade.held import held, sources


@pytest.fixture(scope="module")
def summary() -> Summary:
    return Spring.from_preset("gate-latch").summary()


def test_halton_is_the_published_sequence() -> None:
    assert halton(200, 6) == pytest.approx(qmc.Halton(6, scramble=False).random(201)[1:])


def test_cut_normal() -> None:
    u = halton(2000, 1)[:, 0]
    assert cut_normal(u, 3.0) == pytest.approx(truncnorm.ppf(u, -3, 3), abs=1e-9)


@pytest.mark.parametrize(
    ("dimension", "d", "D", "L_0", "grade", "value"),
    [
        ("mean_diameter", 1.0, 9.6, 50, 2, 0.30),
        ("mean_diameter", 1.25, 10, 50, 1, 0.15),
        ("mean_diameter", 2.0, 10, 50, 3, 0.50),
        ("mean_diameter", 2.0, 20, 50, 2, 0.45),
        ("mean_diameter", 1.0, 17, 50, 2, 0.50),
        ("free_length", 2.0, 10, 40, 2, 0.80),
        ("free_length", 1.0, 10, 41, 2, 1.30),
        ("free_length", 1.0, 10, 500, 2, 7.5),
        ("wire_diameter", 1.6, 10, 40, 2, 0.0004 * 25.4),
    ],
)
def test_rows(dimension: str, d: float, D: float, L_0: float, grade: int, value: float) -> None:
    found = held(d, D, 20, L_0, grade)  # type: ignore[arg-type]
    assert getattr(found, dimension) == pytest.approx(value)


def test_every_table_has_a_source() -> None:
    assert set(sources()) == set(held(1, 8, 20, 40)._fields)
    assert all(source for source, _ in sources().values())


def test_agrees_with_a_linear_estimate_and_with_random_springs(summary: Summary) -> None:
    length, k = 60.0, summary.along_the_wire.rate
    force, g = summary.initial_tension.force, summary.geometry
    nominal = force + k * (length - g.free_length)
    (found,) = spreads(summary, [Asked(length, nominal, k, nominal, 0.1 * nominal)])
    h = held(g.wire_diameter, g.mean_diameter, g.body_coils, g.free_length)
    pull = nominal - force
    slope = np.array(
        [
            (4 * pull + 3 * force) / g.wire_diameter,
            -(3 * pull + force) / g.mean_diameter,
            -pull / summary.active_coils,
            pull,
            force,
            -k,
        ]
    )
    sigma = truncnorm.std(-3, 3) / 3 * np.array(h)
    deviation = float(np.sqrt(((slope * sigma) ** 2).sum()))
    assert found.deviation == pytest.approx(deviation, rel=0.02)
    assert found.mean == pytest.approx(nominal, rel=0.01)
    expected = 2 * norm.cdf(0.1 * nominal / deviation) - 1
    assert found.chance == pytest.approx(expected, abs=0.03)
    shares = (slope * sigma) ** 2 / deviation**2
    assert next(iter(found.shares)) == h._fields[int(shares.argmax())]
    assert sum(found.shares.values()) == pytest.approx(1)


def test_a_finer_grade_meets_more(summary: Summary) -> None:
    load = summary.points[-1].load
    points = [Asked(60.0, load, summary.rates.small_load, load, 1.0)]
    fine, coarse = (spreads(summary, points, grade)[0].deviation for grade in (1, 3))
    assert fine < coarse
