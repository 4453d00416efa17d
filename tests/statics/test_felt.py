"""Averages of the curvature vector against closed forms and against fine stations."""

from __future__ import annotations

import math

import numpy as np
import pytest

from springgeo.curve import Arc, CylinderBend, Helix, Line, Path, Piece, Samples
from springgeo.curve.frame import vector
from springgeo.statics.felt import felt
from springgeo.statics.stations import stations

D, RATES = 1.3, np.array([3.5, 9.0, 40.0])


def line_then_arc():
    line = Line.between(vector(-9, 0, 0), vector(0, 0, 0))
    arc = Arc.leaving(vector(0, 0, 0), vector(1, 0, 0), vector(0, 1, 0), 3.0, 2.0)
    return Path([Piece(line, "leg", "straight"), Piece(arc, "loop", "loop")])


def both_sides(samples):
    """Return the curvature averaged over both sides, ``(rates, n)``, 1/mm."""
    found = felt(samples, D, RATES)
    return np.abs(found.before + found.after) / (D / 2)


def test_jump_from_straight_to_round():
    path = line_then_arc()
    samples = stations(path, D, 0.0, path.length)
    found = felt(samples, D, RATES)
    x = RATES[:, None] * (samples.s - 9.0) / D
    near = np.exp(-np.abs(x)) / 2
    e = D / 2 / 3.0
    np.testing.assert_allclose(np.abs(found.before), e * np.where(x < 0, 0, 0.5 - near), atol=1e-12)
    np.testing.assert_allclose(np.abs(found.after), e * np.where(x < 0, near, 0.5), atol=1e-12)


@pytest.mark.parametrize("step", [0.05, 1.0, 4.0])
def test_helix_keeps_its_curvature_but_for_its_twist(step):
    # exp kernel on exp(i τ s): 1/(1 + (τ d/p)²), at any spacing
    helix = Helix(radius=4.0, pitch=3.0, turns=5)
    samples = Path([Piece(helix, "body", "body")]).sample(step)
    smooth = both_sides(samples)
    lead = helix.lead_angle
    twist = math.sin(lead) * math.cos(lead) / 4.0
    inside = (samples.s > 8 * D) & (samples.s < helix.length - 8 * D)
    exact = math.cos(lead) ** 2 / 4.0 / (1 + (twist * D / RATES) ** 2)
    for row, value in zip(smooth, exact, strict=True):
        np.testing.assert_allclose(row[inside], value, rtol=2e-6)


def bent_coil():
    helix = Helix(radius=4.0, pitch=1.4, turns=3)
    bend = CylinderBend(radius=4.0, bend_radius=2.0, start=helix.lead_angle, end=math.pi / 2)
    hook = Path([Piece(bend, "bend", "bend")]).moved(np.eye(3), vector(0, 0, 3 * 1.4))
    return Path([Piece(helix, "body", "body"), *hook.pieces])


def test_graded_stations_are_fine_enough():
    path = bent_coil()
    graded, fine = stations(path, D, 0.0, path.length), path.sample(0.004)
    for coarse, exact in zip(both_sides(graded), both_sides(fine), strict=True):
        np.testing.assert_allclose(coarse, np.interp(graded.s, fine.s, exact), rtol=1e-3)


@pytest.mark.parametrize("error", [0.0, 1e-14, -1e-14])
def test_both_sides_of_a_joint_agree_in_spite_of_rounding(error):
    path = bent_coil()
    x = stations(path, D, 0.0, path.length)
    joint = int(np.flatnonzero(np.diff(x.index))[0])
    s, point = x.s.copy(), x.point.copy()
    s[joint + 1] += error
    point[joint + 1] += error * vector(0.3, -0.7, 0.6)
    moved = Samples(s, x.index, point, x.tangent, x.curvature, x.normal)
    smooth = both_sides(moved)
    np.testing.assert_allclose(smooth[:, joint], smooth[:, joint + 1], atol=1e-12)
    np.testing.assert_allclose(smooth, both_sides(x), atol=1e-12)


def test_stations_hold_joints_and_contacts():
    path = bent_coil()
    s = stations(path, D, 7.0, path.length - 0.5).s
    for wanted in (7.0, path.length - 0.5, path.starts[1]):
        assert np.abs(s - wanted).min() < 1e-12
    assert np.all(np.diff(s) >= -1e-12)
    assert s[0] == pytest.approx(7.0 - 3 * D)
