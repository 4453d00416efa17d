"""Parameters that only one style has, measured on its wire; and what each leaves at default."""

from __future__ import annotations

import math

import numpy as np
import pytest

from springgeo.curve import Piece
from springgeo.ends import registry
from springgeo.ends.protocol import EndShape

from .cases import body_end
from .measure import fit_circle, points

BODY = body_end(8.0, 1.2)
R, D_IN, WIRE = 4.8, 8.4, 1.2


def _shape(name: str, **parameters: float) -> EndShape:
    style = registry.get(name)
    return style.shape(style.parameters(**parameters), BODY)


def _piece(shape: EndShape, label: str) -> Piece:
    return next(p for p in shape.pieces if p.label == label)


@pytest.mark.parametrize("leg", [0.5, 3.0, 20.0])
def test_leg_runs_from_the_bend_to_the_centre_of_the_loop(leg: float) -> None:
    shape = _shape("machine-half-loop", leg=leg)
    bend, loop = _piece(shape, "bend"), _piece(shape, "loop")
    top = bend.segment.point(np.array([bend.segment.length]))[0]
    assert fit_circle(points([loop])).centre[2] - top[2] == pytest.approx(leg, rel=1e-9)


@pytest.mark.parametrize("rise", [2.0, 2.5, 3.0])
def test_rise_radius_is_that_of_the_wire(rise: float) -> None:
    shape = _shape("short-twisted-loop", rise_radius=rise)
    circle = fit_circle(points([_piece(shape, "rise")]))
    assert circle.radius == pytest.approx(rise, rel=1e-9)
    assert circle.misfit < 1e-9


@pytest.mark.parametrize("length", [7.6, 8.0, 8.6])
def test_a_short_loop_can_be_asked_for_by_length(length: float) -> None:
    natural = _shape("short-twisted-loop").hook_length
    wanted = natural + length - 8.0
    assert _shape("short-twisted-loop", hook_length=wanted).hook_length == pytest.approx(
        wanted, rel=1e-12
    )


def test_full_loop_by_default_is_as_long_as_the_inside_diameter() -> None:
    """Published: Shigley, eq. 10-39, takes one inside diameter for a full loop."""
    shape = _shape("full-twisted-loop")
    assert shape.hook_length == pytest.approx(D_IN, rel=1e-12)
    assert shape.loop_radius == pytest.approx(R, rel=1e-12)
    assert shape.opening == pytest.approx(WIRE / 2, rel=1e-12)


def test_full_loop_with_a_wide_bend_goes_up_on_the_coil() -> None:
    shape = _shape("full-twisted-loop", bend_radius=0.6 * R)
    xyz = points([_piece(shape, "bend")])
    assert np.hypot(xyz[:, 0], xyz[:, 1]) == pytest.approx(R, rel=1e-12)
    assert shape.hook_length == pytest.approx(D_IN, rel=1e-12)


def test_machine_half_loop_by_default_is_a_half_loop_of_the_coil() -> None:
    shape = _shape("machine-half-loop")
    assert shape.loop_radius == pytest.approx(R, rel=1e-12)
    loop = _piece(shape, "loop")
    assert loop.segment.length == pytest.approx(math.pi * R, rel=1e-9)


def test_raised_hook_by_default_stands_one_and_a_half_diameters_high() -> None:
    shape = _shape("raised-hook")
    assert shape.hook_length == pytest.approx(3 * R, rel=1e-12)
    assert shape.loop_radius == pytest.approx(0.85 * R, rel=1e-12)


def test_default_bends_are_two_wire_diameters_where_they_fit() -> None:
    for name in ("full-twisted-loop", "machine-half-loop", "raised-hook", "short-twisted-loop"):
        limit = 0.4 if "twisted" in name else 0.5
        assert _shape(name).bend_radius == pytest.approx(min(2 * WIRE, limit * R)), name
