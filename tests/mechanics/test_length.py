"""Lengths: the forms agree with each other and with a helix measured by points."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import length

positive = st.floats(min_value=0.1, max_value=20.0)


@given(st.floats(4.0, 20.0), st.floats(3.0, 100.0), positive)
def test_full_loops_are_loops_of_the_inside_diameter(C: float, N_b: float, d: float) -> None:
    inside = C * d - d
    by_parts = length.free_length(length.body_length(N_b, d), inside, inside)
    assert length.free_length_full_loops(C, N_b, d) == pytest.approx(by_parts, rel=1e-12)


def test_wire_of_the_body_is_that_of_a_helix() -> None:
    N_b, D, d = 7.25, 9.6, 1.2
    t = np.linspace(0.0, 2 * np.pi * N_b, 200_001)
    xyz = np.stack([D / 2 * np.cos(t), D / 2 * np.sin(t), d * t / (2 * np.pi)])
    measured = np.sqrt((np.diff(xyz) ** 2).sum(axis=0)).sum()
    assert length.wire_length_body(N_b, D, d) == pytest.approx(measured, rel=1e-8)
