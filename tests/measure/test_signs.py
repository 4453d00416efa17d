"""Signs of wear and misreading: each from both sides of where it begins."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.measure.line_fit import Interval, Line
from springgeo.measure.signs import body_closed, signs
from tests.springs import kept

S = kept("gate-latch").summary()
G, D, N = S.geometry, S.geometry.wire_diameter, S.geometry.body_coils
JUST = 1e-3


def exact(value: float, u: float = 0.0) -> Interval:
    return Interval(value, u, value - 2 * u, value + 2 * u)


def line(bend: float = 0.0, scatter: float = 1.0, tension: Interval | None = None) -> Line:
    used = np.ones(3, dtype=bool)
    return Line(exact(1.2), tension or exact(S.initial_tension.force), used, bend, scatter)


def codes(
    found: Line | None = None,
    free: float = S.free_length.model,
    u_free: float = 0.0,
    body: Interval | None = None,
) -> set[str]:
    told = signs(S, found or line(), exact(free, u_free), body, exact(8e4), True)
    return {f.code for f in told}


@pytest.mark.parametrize("side", [-1, 1])
@pytest.mark.parametrize("u", [0.0, 0.05])
def test_a_body_is_open_or_short_beyond_two_hundredths_of_a_wire_a_coil(
    side: int, u: float
) -> None:
    # per coil: 0.02 d, and twice the reading's own uncertainty
    for off, beyond in ((1 + JUST, True), (1 - JUST, False)):
        length = body_closed(S) + side * off * (0.02 * D * N + 2 * u)
        found = codes(body=exact(length, u))
        assert ("body-open" in found) == (beyond and side > 0)
        assert ("body-short" in found) == (beyond and side < 0)


@pytest.mark.parametrize("side", [-1, 1])
@pytest.mark.parametrize("u", [0.0, 0.2])
def test_hooks_differ_beyond_a_twentieth(side: int, u: float) -> None:
    for off, beyond in ((1 + JUST, True), (1 - JUST, False)):
        free = S.free_length.model + side * off * (0.05 * S.free_length.model + 2 * u)
        assert ("hooks-differ" in codes(free=free, u_free=u)) == beyond


@pytest.mark.parametrize(
    ("bend", "sign"), [(4.01, True), (-4.01, True), (3.99, False), (-3.99, False)]
)
def test_a_line_is_bent_beyond_four_uncertainties(bend: float, sign: bool) -> None:
    assert ("line-bent" in codes(line(bend=bend))) == sign


@pytest.mark.parametrize(("scatter", "sign"), [(3.01, True), (2.99, False)])
def test_loads_scatter_beyond_three_uncertainties(scatter: float, sign: bool) -> None:
    assert ("scatter" in codes(line(scatter=scatter))) == sign


@pytest.mark.parametrize(("value", "u", "sign"), [(-1.0, 0.4, True), (-1.0, 0.6, False)])
def test_a_tension_is_negative_only_if_its_whole_interval_is(
    value: float, u: float, sign: bool
) -> None:
    assert ("tension-negative" in codes(line(tension=exact(value, u)))) == sign
