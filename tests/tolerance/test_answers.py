"""Distributions against formulas, and the nominal spring against the summary."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm, truncnorm

from springgeo.api import Spring
from springgeo.errors import SpecError
from springgeo.making.inspection import inspection
from springgeo.results.tolerance import Tolerance
from springgeo.specification.tolerances import Tolerances
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.drawn import standard
from springgeo.tolerance.inputs import inputs
from springgeo.tolerance.limited import Limit, limits_of
from springgeo.tolerance.truth import Answer, asked_points
from springgeo.tolerance.widths import MOST, widest
from springgeo.trade.held import held
from tests.tolerance.closed import uncorrected

LESS = 0.02


def test_the_nominal_is_the_summarys(spring: Spring, found: Tolerance) -> None:
    s = spring.summary()
    ways = {"handbook": s.points[-1], "along the wire": s.along_the_wire.points[-1]}
    seen = set()
    for x in found.spreads:
        if x.quantity == "margin":
            assert x.place is not None
            assert x.way is not None
            wanted = getattr(ways[x.way].margin, x.place)
        elif x.quantity == "rate":
            wanted = s.rates.between_points
        elif x.quantity == "free_length":
            wanted = s.geometry.free_length
        else:
            assert x.number is not None
            wanted = getattr(s.points[x.number - 1], x.quantity)
        assert x.nominal == pytest.approx(wanted, rel=1e-9)
        seen.add((x.quantity, x.number, x.way, x.place))
    assert len(seen) == len(found.spreads) == 2 + 2 + 1 + 1 + 6


def test_loads_are_limited_as_on_the_sheet(spring: Spring, found: Tolerance) -> None:
    rows = {p.load: p.tolerance_percent for p in spring.summary().load_line.along_the_wire[2:]}
    for x in found.spreads[:2]:
        assert x.limit_high == pytest.approx(x.nominal * (1 + rows[x.nominal] / 100), rel=1e-6)
        assert x.limit_low == pytest.approx(x.nominal * (1 - rows[x.nominal] / 100), rel=1e-6)


def test_limits_given_are_on_the_sheet_and_in_the_answer(spring: Spring) -> None:
    given = spring.with_({"tolerances.loads": ["1 N", "5 %"]})
    rows = given.summary().load_line
    for line in (rows.handbook, rows.along_the_wire):
        assert [p.tolerance_percent for p in line[2:]] == pytest.approx([100 / 15, 5])
        assert {p.tolerance_known for p in line[2:]} == {"given"}
    sheet = inspection(given.model, given.summary(), "metric")
    off = {c.symbol: (c.low, c.high) for c in sheet if c.symbol in ("F1", "F2")}
    assert off == {"F1": pytest.approx((14, 16)), "F2": pytest.approx((28.5, 31.5))}
    book = Handbook(given.model)
    points = asked_points(book)
    limits = limits_of(
        book, given.spec.tolerances or Tolerances(), {Answer("load", p): p.load for p in points}
    )
    assert [(x.low, x.high) for x in limits.values()] == [pytest.approx(x) for x in off.values()]
    with pytest.raises(SpecError, match="3 tolerances for 2 working points"):
        spring.with_({"tolerances.loads": [1, 1, 1]}).summary()
    with pytest.raises(SpecError, match="plus and minus alike"):
        spring.with_({"tolerances.loads": "-1 N..2 N"})


def test_what_strays_is_what_the_trade_holds(spring: Spring, found: Tolerance) -> None:
    g = spring.summary().geometry
    h = held(g.wire_diameter, g.mean_diameter, g.body_coils, g.free_length)
    off = {x.name: (x.low, x.high) for x in found.strays}
    assert off["wire_diameter"] == (-h.wire_diameter, h.wire_diameter)
    assert off["mean_diameter"] == (-h.mean_diameter, h.mean_diameter)
    assert off["coils"] == (-h.coils, h.coils)
    assert off["free_length"] == (-h.free_length, h.free_length)
    assert off["initial_tension"][1] == pytest.approx(7 * h.initial_tension)


def test_draws_are_those_of_scipy() -> None:
    u = np.linspace(0, 1, 501)
    assert 3 * standard(u, "normal") == pytest.approx(truncnorm.ppf(u, -3, 3), abs=1e-9)
    assert standard(u, "uniform") == pytest.approx(2 * u - 1)


def _slopes(book: Handbook, load: float) -> dict[str, float]:
    """Return how the load at a length goes with each dimension.

    F = F_i + G d^4/(8 D^3 N_a) (L - L_0), Shigley eq. 10-9, differentiated by hand.
    """
    d, D, N, F_i = (float(x) for x in (book.d, book.D, book.active_coils, 7.0))
    pull, k = load - F_i, float(book.rate)
    return {
        "wire_diameter": 4 * pull / d,
        "mean_diameter": -3 * pull / D,
        "coils": -pull / N,
        "initial_tension": 1.0,
        "shear_modulus": pull / float(book.material.shear_modulus),
        "free_length": -k,
    }


def test_small_tolerances_add_up_by_root_sum_square(book: Handbook) -> None:
    # propagation of small errors, JCGM 100:2008 (GUM) eq. 10
    small = tuple(x.widened(LESS) for x in inputs(book, Tolerances()))
    every, answers = uncorrected(book, small)
    drawn = every.drawn(1 << 14, answers)
    found = every.indices(answers, {a: a.point.load for a in answers if a.point})
    one = float(truncnorm.std(-3, 3)) / 3
    for n, a in enumerate(answers):
        assert a.point is not None
        slopes = _slopes(book, a.point.load)
        parts = np.array([slopes[x.name] * x.half * one for x in small])
        sigma = float(np.sqrt((parts**2).sum()))
        values = drawn.values[a]
        assert values.mean() == pytest.approx(a.point.load, rel=1e-5)
        assert values.std() == pytest.approx(sigma, rel=2e-3)
        # a sum of independent parts: both indices are their shares of the variance
        assert found.first[:, n] == pytest.approx(parts**2 / sigma**2, abs=4e-3)
        assert found.total[:, n] == pytest.approx(parts**2 / sigma**2, abs=4e-3)
        limit = Limit(a.point.load - 1.5 * sigma, a.point.load + 1.5 * sigma, "", "")
        assert drawn.inside({a: limit}) == pytest.approx(norm.cdf(1.5) - norm.cdf(-1.5), abs=4e-3)


def test_uniform_tolerances_stray_more(book: Handbook) -> None:
    # a uniform distribution's deviation is its half width over the root of 3 (GUM 4.3.7)
    one = tuple(x.widened(LESS) for x in inputs(book, Tolerances()) if x.name == "free_length")
    every, answers = uncorrected(book, one, distribution="uniform")
    drawn = every.drawn(1 << 12, answers)
    wanted = float(book.rate) * one[0].half / np.sqrt(3)
    assert drawn.values[answers[0]].std() == pytest.approx(wanted, rel=2e-3)


def test_widest_is_where_the_normal_distribution_has_the_share() -> None:
    factor, most = widest(lambda f: float(2 * norm.cdf(3 / f) - 1) if f else 1.0, 0.99)
    assert factor == pytest.approx(3 / norm.ppf(0.995), rel=1e-3)
    assert not most
    assert widest(lambda _f: 0.5, 0.9) == (None, False)
    assert widest(lambda _f: 1.0, 0.9) == (MOST, True)


def test_all_tolerances_together_reach_the_share(found: Tolerance, spring: Spring) -> None:
    assert found.together is not None
    alone = {x.name: x.alone for x in found.strays}
    assert alone["coils"] is None or alone["coils"] >= found.together
    for x in found.strays:
        assert x.inside_if_exact >= found.inside - 2e-3
        assert -0.01 <= x.first <= x.total + 0.01
    assert sum(x.first for x in found.strays) == pytest.approx(1, abs=0.02)
