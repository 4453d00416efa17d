"""The splines under the free faces: the circle's error, and the order of convergence."""

import numpy as np
import pytest

from springgeo.curve import Helix
from springgeo.solid.spline_basis import basis, clamped_knots, greville, interpolation
from springgeo.solid.spline_circle import circle_poles, circle_spans


def test_basis_is_a_partition_of_unity():
    x = np.linspace(0.0, 1.0, 101)
    assert np.allclose(basis(clamped_knots(5), x).sum(axis=1), 1.0, atol=1e-14)


@pytest.mark.parametrize("spans", [8, 9, 12])
def test_circle_error_is_the_first_foreign_harmonic(spans):
    t = np.linspace(0.0, 1.0, 997)
    curve = basis(clamped_knots(spans), t) @ circle_poles(spans)
    exact = np.column_stack([np.cos(2 * np.pi * t), np.sin(2 * np.pi * t)])
    error = np.linalg.norm(curve - exact, axis=1).max()
    assert (spans - 1.0) ** -8 < error < 1.4 * (spans - 1.0) ** -8


def test_circle_stays_on_its_edge_for_any_wire():
    for radius in (0.025, 0.5, 10.0):
        assert radius * (circle_spans(radius) - 1.0) ** -8 < 1e-7


def test_interpolation_along_a_helix_converges_at_order_eight():
    helix = Helix(radius=4.0, pitch=1.0, turns=1.0)

    def error(spans):
        x = np.linspace(0.0, 1.0, 501)
        poles = interpolation(spans) @ helix.point(helix.length * greville(spans))
        return np.abs(basis(clamped_knots(spans), x) @ poles - helix.point(helix.length * x)).max()

    assert np.log2(error(8) / error(16)) > 7.0
