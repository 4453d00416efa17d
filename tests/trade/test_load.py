"""Load tolerance against the rows of the published table (read)."""

from __future__ import annotations

import pytest

from springgeo.trade import load_tolerance, rate_tolerance


@pytest.mark.parametrize(
    ("index", "diameter_in", "ratio", "percent"),
    [
        (4, 0.015, 12, 20.0),
        (4, 0.032, 4.5, 14.1),
        (4, 0.092, 0.5, 4.1),
        (8, 0.022, 1.5, 8.6),
        (8, 0.062, 12, 12.1),
    ],
)
def test_rows_of_the_table(index: float, diameter_in: float, ratio: float, percent: float) -> None:
    t = load_tolerance(index, 25.4 * diameter_in, ratio * 10.0, 10.0)
    assert t.percent == pytest.approx(percent, rel=1e-12)
    assert t.known == "read"


def test_between_the_rows() -> None:
    t = load_tolerance(6, 25.4 * 0.032, 45.0, 10.0)
    assert t.percent == pytest.approx((14.1 + 10.7) / 2, rel=1e-12)


@pytest.mark.parametrize(
    ("index", "diameter", "deflection"), [(9, 1.0, 10.0), (6, 3.0, 10.0), (6, 1.0, 0.0)]
)
def test_outside_it_is_common_practice_and_says_so(
    index: float, diameter: float, deflection: float
) -> None:
    assert load_tolerance(index, diameter, 40.0, deflection).known == "common practice"


# De less d over d: dust above and below a limit; 0.092 in
@pytest.mark.parametrize(
    ("outer", "diameter"),
    [(10.8, 1.2), (15.3, 1.7), (13.05, 1.45), (9 * 0.381, 0.381), (5 * 2.3368, 2.3368)],
)
def test_a_limit_missed_by_the_dust_of_a_subtraction_is_in_the_table(
    outer: float, diameter: float
) -> None:
    index = (outer - diameter) / diameter
    assert load_tolerance(index, diameter, 45.0, 10.0).known == "read"


def test_rate_has_no_table() -> None:
    assert rate_tolerance() == (10, *rate_tolerance()[1:])
    assert rate_tolerance().known == "common practice"
