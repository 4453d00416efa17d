from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.stats import norm, truncnorm

from springgeo.api import Spring
from springgeo.sizing import job_of, size
from springgeo.sizing.answer.tolerance import spreads
from springgeo.sizing.search.search import search
from springgeo.summary import Summary
from springgeo.trade.held import held, held_of_many, sources
from tests.springs import kept


@pytest.fixture(scope="module")
def spring() -> Spring:
    return kept("gate-latch")


@pytest.fixture(scope="module")
def summary(spring: Spring) -> Summary:
    return spring.summary()


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


@pytest.mark.parametrize("grade", [1, 2, 3])
def test_many_at_once_are_each_alone(grade: Any) -> None:
    rng = np.random.default_rng(grade)
    d = rng.uniform(0.1, 8, (40, 1))
    D, coils, L_0 = (
        d * rng.uniform(3, 22, (40, 7)),
        rng.uniform(3, 90, (40, 7)),
        10 ** rng.uniform(0.5, 3, (40, 7)),
    )
    many = [np.broadcast_to(x, D.shape) for x in held_of_many(d, D, coils, L_0, grade=grade)]
    for row, column in np.ndindex(D.shape):
        one = held(
            *(float(x[row, column]) for x in (np.broadcast_to(d, D.shape), D, coils, L_0)), grade
        )
        assert [x[row, column] for x in many] == pytest.approx(list(one))


def test_agrees_with_a_linear_estimate(spring: Spring, summary: Summary) -> None:
    length, k = 60.0, summary.rate
    force, g = summary.initial_tension.force, summary.geometry
    nominal = force + k * (length - g.free_length)
    (found,) = spreads(spring.along_the_wire.book, [(length, nominal, 0.1 * nominal)], "handbook")
    h = held(g.wire_diameter, g.mean_diameter, g.body_coils, g.free_length)
    pull = nominal - force
    slope = np.array(
        [
            4 * pull / g.wire_diameter,
            -3 * pull / g.mean_diameter,
            -pull / summary.active_coils,
            pull,
            force,
            -k,
        ]
    )
    sigma = truncnorm.std(-3, 3) / 3 * np.array(h)
    deviation = float(np.sqrt(((slope * sigma) ** 2).sum()))
    assert found.deviation == pytest.approx(deviation, rel=0.01)
    assert found.mean == pytest.approx(nominal, rel=2e-3)
    expected = 2 * norm.cdf(0.1 * nominal / deviation) - 1
    assert found.chance == pytest.approx(expected, abs=0.02)
    shares = (slope * sigma) ** 2 / deviation**2
    assert next(iter(found.shares)) == h._fields[int(shares.argmax())]
    assert sum(found.shares.values()) == pytest.approx(1, abs=0.02)


def test_a_finer_grade_meets_more(spring: Spring) -> None:
    points, book = [(60.0, 30.0, 1.0)], spring.along_the_wire.book
    fine, coarse = (spreads(book, points, "handbook", grade=g)[0].deviation for g in (1, 3))
    assert fine < coarse


def test_the_objective_finds_the_greatest_share() -> None:
    job = {
        "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
        "choice": {"ends": ["machine-half-loop"], "materials": ["astm-a228"], "index": [5, 12]},
        "method": "handbook",
    }
    found = search(job_of(job | {"objectives": ["in_tolerance", "mass"]}))
    best = size(job_of(job | {"objectives": ["in_tolerance"]}), top=1).winners[0]
    light = size(job_of(job | {"objectives": ["mass"]}), top=1).winners[0]
    assert best.chance > light.chance
    # the cost is three deviations over the tolerance of the worst load
    worst = max(best.spreads, key=lambda s: s.deviation / s.allowed)
    one = float(truncnorm.std(-3, 3))
    assert best.candidate.cost["in_tolerance"] == pytest.approx(
        3 * worst.deviation / one / worst.allowed, rel=0.02
    )
    # along the front less spread costs mass
    order = np.argsort(found.costs[:, 0])
    assert (np.diff(found.costs[order, 1]) <= 1e-12).all()


def test_a_winner_of_the_objective_is_asked_in_every_dimension(spring: Spring) -> None:
    book = spring.along_the_wire.book
    points = [(float(p.length), float(p.load), 1.0) for p in spring.summary().points[-1:]]
    (near,), (whole,) = (spreads(book, points, whole=w, count=1 << 12) for w in (False, True))
    assert near.mean == pytest.approx(whole.mean, rel=1e-3)
    assert near.deviation == pytest.approx(whole.deviation, rel=5e-3)
    assert near.deviation != whole.deviation
