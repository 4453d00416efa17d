"""Springback of wire bent from straight, against closed forms and limits."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.errors import SpecError
from springgeo.overload import springback
from springgeo.overload.closed import moment_of_curvature

E = 206000.0


def test_all_flowing_is_the_full_plastic_moment_let_go() -> None:
    """1/R = 1/R_a − (16/3π) σ/(E r): d³σ/6 over E I, wire bent far beyond its limit."""
    bent = springback(1.0, E, 1600.0, wound=5.0)
    assert 2 / bent.free == pytest.approx(2 / 5 - 16 / (3 * math.pi) * 1600 / (E * 0.5), rel=3e-3)
    assert bent.arbor == pytest.approx(4.0)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.1, 15), st.floats(3, 20), st.floats(300, 2500), st.floats(0, 0.1))
def test_both_ways_agree(d: float, C: float, flow: float, hardening: float) -> None:
    bent = springback(d, E, flow, free=C * d, hardening=hardening)
    assert d < bent.wound < bent.free
    back = springback(d, E, flow, wound=bent.wound, hardening=hardening)
    assert back.free == pytest.approx(C * d, rel=1e-6)
    second = math.pi * d**4 / 64
    moment = moment_of_curvature(2 / bent.wound, d, E, flow, hardening)
    assert 2 / bent.free == pytest.approx(2 / bent.wound - moment / (E * second), rel=1e-6)
    # stronger wire springs back more
    assert springback(d, E, 1.1 * flow, free=C * d).wound < springback(d, E, flow, free=C * d).wound


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({}, "free"),
        ({"free": 8.0, "wound": 7.0}, "free"),
        ({"free": math.nan}, "free"),
        ({"wound": -1.0}, "wound"),
        ({"wound": 1000.0}, "wound"),
        ({"free": 8.0, "hardening": 1.0}, "hardening"),
        ({"free": 8.0, "wire_diameter": 0.0}, "wire_diameter"),
        ({"free": 8.0, "flow_stress": math.inf}, "flow_stress"),
    ],
)
def test_refuses_in_one_line(values: dict[str, float], field: str) -> None:
    given_ = {"wire_diameter": 1.0, "modulus": E, "flow_stress": 1600.0} | values
    with pytest.raises(SpecError) as caught:
        springback(**given_)
    assert caught.value.findings[0].field == field
    assert "\n" not in str(caught.value)
