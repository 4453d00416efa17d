"""Every kind of segment: arc length, tangent and curvature belong to the curve it claims."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from springgeo.curve import Arc, ConicalHelix, CylinderBend, Helix, Line, Segment, lead_angle
from springgeo.curve.frame import Frame, vector

radii = st.floats(0.5, 50.0)


def inner(segment: Segment, n: int = 41) -> np.ndarray:
    return np.linspace(0.02, 0.98, n) * segment.length


def test_arc_length_and_points(twin, differentiate) -> None:
    def speed(u: float) -> float:
        return float(np.linalg.norm(differentiate(twin.curve, u, 5e-5)))

    walked = 0.0
    for low, high in zip(np.linspace(0, 0.9, 10), np.linspace(0.1, 1, 10), strict=True):
        walked += quad(speed, low, high, epsabs=1e-12, epsrel=1e-12)[0]
        assert np.allclose(twin.segment.point(np.array([walked]))[0], twin.curve(high), atol=1e-8)
    assert twin.segment.length == pytest.approx(walked, rel=1e-9)
    assert np.allclose(twin.segment.point(np.zeros(1))[0], twin.curve(0.0), atol=1e-12)


def test_curvature_of_the_twin(twin, differentiate) -> None:
    for u in np.linspace(0.1, 0.9, 9):
        first = differentiate(twin.curve, u, 2e-3)
        second = differentiate(lambda w: differentiate(twin.curve, w, 2e-3), u, 2e-3)
        wanted = np.linalg.norm(np.cross(first, second)) / np.linalg.norm(first) ** 3
        s = np.linspace(0, twin.segment.length, 4001)
        near = s[np.argmin(np.linalg.norm(twin.segment.point(s) - twin.curve(u), axis=1))]
        found = np.linalg.norm(twin.segment.curvature(np.array([near])))
        assert found == pytest.approx(wanted, rel=5e-3, abs=1e-9)


def test_tangent_is_the_derivative(segment, differentiate) -> None:
    s = inner(segment)
    t = segment.tangent(s)
    assert np.allclose(np.linalg.norm(t, axis=1), 1.0, atol=1e-13)
    assert np.allclose(differentiate(segment.point, s, 1e-3), t, atol=1e-9)


def test_curvature_is_the_derivative_of_the_tangent(segment, differentiate) -> None:
    s = inner(segment)
    k = segment.curvature(s)
    assert np.allclose(differentiate(segment.tangent, s, 1e-3), k, atol=1e-8)
    assert np.abs(np.sum(k * segment.tangent(s), axis=1)).max() < 1e-12
    assert segment.max_curvature >= np.linalg.norm(k, axis=1).max() * (1 - 1e-3)


def test_normal_is_across_and_smooth(segment) -> None:
    s = np.linspace(0.0, segment.length, 2001)
    n = segment.normal(s)
    assert np.allclose(np.linalg.norm(n, axis=1), 1.0, atol=1e-12)
    assert np.abs(np.sum(n * segment.tangent(s), axis=1)).max() < 1e-12
    step = np.linalg.norm(np.diff(n, axis=0), axis=1)
    assert step.max() < 5 * (s[1] - s[0])


def test_traced_is_all_three_at_once(segment) -> None:
    s = np.linspace(0.0, segment.length, 41)
    for found, wanted in zip(
        segment.traced(s), (segment.point(s), segment.tangent(s), segment.curvature(s)), strict=True
    ):
        assert np.array_equal(found, wanted)


def test_reversed(segment) -> None:
    back, s = segment.reversed(), inner(segment)
    other = segment.length - s
    assert back.length == segment.length
    assert np.allclose(back.point(s), segment.point(other), atol=1e-12)
    assert np.allclose(back.tangent(s), -segment.tangent(other), atol=1e-12)
    assert np.allclose(back.curvature(s), segment.curvature(other), atol=1e-12)
    assert np.allclose(back.reversed().point(s), segment.point(s), atol=0)


@pytest.mark.parametrize("mirror", [False, True])
def test_moved(segment, mirror: bool) -> None:
    axes = np.linalg.qr(np.random.default_rng(5).normal(size=(3, 3)))[0]
    axes *= np.linalg.det(axes) * (-1 if mirror else 1)
    origin, s = np.array([1.0, 2.0, 3.0]), inner(segment)
    moved = segment.moved(axes, origin)
    assert moved.length == segment.length
    assert np.allclose(moved.point(s), origin + segment.point(s) @ axes.T, atol=1e-12)
    for name in ("tangent", "curvature", "normal"):
        assert np.allclose(getattr(moved, name)(s), getattr(segment, name)(s) @ axes.T, atol=1e-12)


@given(radii, st.floats(0.01, 3.0), st.floats(0.05, 30.0))
def test_helix_closed_forms(R: float, slope: float, turns: float) -> None:
    pitch = slope * R
    helix = Helix(radius=R, pitch=pitch, turns=turns)
    b = pitch / (2 * math.pi)
    assert helix.max_curvature == pytest.approx(R / (R**2 + b**2), rel=1e-12)
    assert helix.length == pytest.approx(2 * math.pi * turns * math.hypot(R, b), rel=1e-12)
    assert math.tan(lead_angle(R, pitch)) == pytest.approx(b / R, rel=1e-12)
    end = helix.point(np.array([helix.length]))[0]
    assert end[2] == pytest.approx(pitch * turns, rel=1e-12)
    assert np.allclose(np.hypot(end[0], end[1]), R, rtol=1e-12)


@given(radii, st.floats(0.1, 0.9), st.floats(0.0, 0.3), st.floats(0.4, 1.6))
def test_cylinder_bend_closed_forms(R: float, share: float, start: float, end: float) -> None:
    bend = CylinderBend(radius=R, bend_radius=share * R, start=start, end=end)
    s = np.linspace(0, bend.length, 33)
    slope = start + s / bend.bend_radius
    wanted = np.sqrt(1 / bend.bend_radius**2 + np.cos(slope) ** 4 / R**2)
    assert np.allclose(np.linalg.norm(bend.curvature(s), axis=1), wanted, rtol=1e-12)
    p = bend.point(s)
    assert np.allclose(np.hypot(p[:, 0], p[:, 1]), R, rtol=1e-12)
    assert np.allclose(np.arcsin(bend.tangent(s)[:, 2]), np.minimum(slope, math.pi - slope))
    assert p[-1, 2] == pytest.approx(bend.rise, rel=1e-12)
    assert math.atan2(p[-1, 1], p[-1, 0]) == pytest.approx(bend.swept_azimuth, rel=1e-9)


@given(radii, st.floats(0.1, 6.2))
def test_arc_closed_forms(r: float, angle: float) -> None:
    arc = Arc(radius=r, angle=angle)
    s = np.linspace(0, arc.length, 9)
    assert arc.length == pytest.approx(r * angle, rel=1e-15)
    assert np.allclose(np.linalg.norm(arc.point(s), axis=1), r, rtol=1e-14)
    assert np.allclose(arc.curvature(s), -arc.point(s) / r**2, rtol=1e-12, atol=1e-14)


def test_arc_leaving() -> None:
    start, along = vector(1, 2, 3), vector(0, 0, 2)
    arc = Arc.leaving(start, along, vector(1, 0, 5), 2.0, math.pi)
    zero, end = np.zeros(1), np.array([arc.length])
    assert np.allclose(arc.point(zero)[0], start)
    assert np.allclose(arc.tangent(zero)[0], [0, 0, 1])
    assert np.allclose(arc.curvature(zero)[0], [0.5, 0, 0])
    assert np.allclose(arc.point(end)[0], [5, 2, 3])


def test_cone_without_taper_is_a_helix() -> None:
    cone = ConicalHelix(radius=4.0, end_radius=4.0, pitch=1.3, turns=2.5)
    helix = Helix(radius=4.0, pitch=1.3, turns=2.5)
    s = inner(helix)
    for name in ("point", "tangent", "curvature", "normal"):
        assert np.allclose(getattr(cone, name)(s), getattr(helix, name)(s), atol=1e-11)


def test_cone_stays_on_its_cone() -> None:
    cone = ConicalHelix(radius=4.0, end_radius=1.5, pitch=1.2, turns=3.0)
    p = cone.point(inner(cone))
    assert np.allclose(np.hypot(p[:, 0], p[:, 1]), 4.0 - 2.5 * p[:, 2] / 3.6, atol=1e-11)


@pytest.mark.parametrize("end", [(1, 0, 0), (0, 1, 0), (0, 0, 1), (-1, -1, 1), (1e-3, 0, -1e-3)])
def test_line_in_every_direction(end: tuple[float, float, float]) -> None:
    line = Line.between(np.zeros(3), vector(*end))
    assert np.allclose(line.point(np.array([line.length]))[0], end, atol=1e-15)
    axes = line.frame.axes
    assert np.allclose(axes.T @ axes, np.eye(3), atol=1e-14)
    assert np.linalg.det(axes) == pytest.approx(1.0)
    assert not line.curvature(np.linspace(0, line.length, 3)).any()


def test_blend_meets_its_ends(twin) -> None:
    if type(twin.segment).__name__ != "Blend":
        return
    ends = np.array([0.0, twin.segment.length])
    assert np.allclose(twin.segment.point(ends), [[0, 0, 0], [1, 3, 2]], atol=1e-10)
    assert np.allclose(twin.segment.tangent(ends)[0], [1, 0, 0], atol=1e-10)
    assert np.allclose(twin.segment.curvature(ends)[0], [0, 0.3, 0], atol=1e-10)


def test_frame_cannot_be_changed() -> None:
    origin = np.zeros(3)
    frame = Frame(origin)
    origin[0] = 1.0
    assert frame.origin[0] == 0.0
    with pytest.raises(ValueError, match="read-only"):
        frame.axes[0, 0] = 2.0
