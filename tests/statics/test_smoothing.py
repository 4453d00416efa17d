"""Smoothing of the curvature vector against closed forms and against fine stations."""

from __future__ import annotations

import math

import numpy as np
import pytest

from springgeo.curve import Arc, CylinderBend, Helix, Line, Path, Piece, Samples
from springgeo.curve.frame import vector
from springgeo.statics.smoothing import LAMBDA, smoothed_curvature
from springgeo.statics.stations import stations

D = 1.3


def line_then_arc():
    line = Line.between(vector(-9, 0, 0), vector(0, 0, 0))
    arc = Arc.leaving(vector(0, 0, 0), vector(1, 0, 0), vector(0, 1, 0), 3.0, 2.0)
    return Path([Piece(line, "leg", "straight"), Piece(arc, "loop", "loop")])


def test_jump_from_straight_to_round():
    path = line_then_arc()
    samples = stations(path, D, 0.0, path.length)
    smooth = np.linalg.norm(smoothed_curvature(samples, D), axis=1)
    x = (samples.s - 9.0) / (LAMBDA * D)
    exact = np.where(x < 0, np.exp(np.minimum(x, 0)) / 2, 1 - np.exp(-np.maximum(x, 0)) / 2) / 3
    np.testing.assert_allclose(smooth, exact, atol=1e-12)


@pytest.mark.parametrize("step", [0.05, 1.0, 4.0])
def test_helix_keeps_its_curvature_but_for_its_twist(step):
    # exp kernel on exp(i τ s): 1/(1 + (τ λ)²), at any spacing
    helix = Helix(radius=4.0, pitch=3.0, turns=5)
    samples = Path([Piece(helix, "body", "body")]).sample(step)
    smooth = np.linalg.norm(smoothed_curvature(samples, D), axis=1)
    lead = helix.lead_angle
    twist = math.sin(lead) * math.cos(lead) / 4.0
    inside = (samples.s > 25 * LAMBDA * D) & (samples.s < helix.length - 25 * LAMBDA * D)
    exact = math.cos(lead) ** 2 / 4.0 / (1 + (twist * LAMBDA * D) ** 2)
    np.testing.assert_allclose(smooth[inside], exact, rtol=2e-6)


def bent_coil():
    helix = Helix(radius=4.0, pitch=1.4, turns=3)
    bend = CylinderBend(radius=4.0, bend_radius=2.0, start=helix.lead_angle, end=math.pi / 2)
    hook = Path([Piece(bend, "bend", "bend")]).moved(np.eye(3), vector(0, 0, 3 * 1.4))
    return Path([Piece(helix, "body", "body"), *hook.pieces])


def test_graded_stations_are_fine_enough():
    path = bent_coil()
    graded, fine = stations(path, D, 0.0, path.length), path.sample(0.004)
    coarse, exact = (np.linalg.norm(smoothed_curvature(x, D), axis=1) for x in (graded, fine))
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
    smooth = smoothed_curvature(moved, D)
    np.testing.assert_allclose(smooth[joint], smooth[joint + 1], atol=1e-12)
    np.testing.assert_allclose(smooth, smoothed_curvature(x, D), atol=1e-12)


def test_stations_hold_joints_and_contacts():
    path = bent_coil()
    s = stations(path, D, 7.0, path.length - 0.5).s
    for wanted in (7.0, path.length - 0.5, path.starts[1]):
        assert np.abs(s - wanted).min() < 1e-12
    assert np.all(np.diff(s) >= -1e-12)
    assert s[0] == pytest.approx(7.0 - 3 * D)
