"""The splines under the free faces: the circle's error, and the order of convergence."""

import math

import numpy as np
import pytest

from springgeo.curve import Helix
from springgeo.solid.spline_basis import (
    ALONG,
    AROUND,
    basis,
    clamped_knots,
    greville,
    interpolation,
)
from springgeo.solid.spline_circle import circle_poles, circle_spans


def test_basis_is_a_partition_of_unity():
    x = np.linspace(0.0, 1.0, 101)
    assert np.allclose(basis(clamped_knots(5, AROUND), x, AROUND).sum(axis=1), 1.0, atol=1e-14)


@pytest.mark.parametrize("spans", [8, 9, 12])
def test_circle_error_is_the_first_foreign_harmonic(spans):
    t = np.linspace(0.0, 1.0, 997)
    curve = basis(clamped_knots(spans, AROUND), t, AROUND) @ circle_poles(spans)
    exact = np.column_stack([np.cos(2 * np.pi * t), np.sin(2 * np.pi * t)])
    error = np.linalg.norm(curve - exact, axis=1).max()
    assert (spans - 1.0) ** -8 < error < 1.4 * (spans - 1.0) ** -8


def test_circle_stays_on_its_edge_for_any_wire():
    for radius in (0.025, 0.5, 10.0):
        assert radius * (circle_spans(radius) - 1.0) ** -8 < 1e-7


def test_interpolation_along_a_helix_converges_at_the_order_of_its_degree():
    # as many turns as keep the finer error above rounding
    helix = Helix(radius=4.0, pitch=1.0, turns=3.0)

    def error(spans):
        x = np.linspace(0.0, 1.0, 501)
        at, row = greville(spans, ALONG), clamped_knots(spans, ALONG)
        poles = interpolation(spans, ALONG) @ helix.point(helix.length * at)
        return np.abs(basis(row, x, ALONG) @ poles - helix.point(helix.length * x)).max()

    assert np.log2(error(8) / error(16)) > ALONG - 0.5


def test_one_span_along_a_turn_is_nearly_the_best_polynomial():
    """The best of degree n on an interval of half-length h errs by h^(n+1) / (2^n (n+1)!)."""
    at, row, x = greville(1, ALONG), clamped_knots(1, ALONG), np.linspace(0.0, 1.0, 2001)
    assert (at[0], at[-1], len(at)) == (0.0, 1.0, ALONG + 1)
    cosine = interpolation(1, ALONG) @ np.cos(2 * np.pi * at)
    error = np.abs(basis(row, x, ALONG) @ cosine - np.cos(2 * np.pi * x)).max()
    best = math.pi ** (ALONG + 1) / (2**ALONG * math.factorial(ALONG + 1))
    assert error < 1.3 * best
