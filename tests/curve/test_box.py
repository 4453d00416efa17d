"""The box round a tube: exact where it is known, and against a search over the surface."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.curve import Arc, ConicalHelix, Helix, Line, Path, Piece, tube_box
from springgeo.curve.frame import Array, rotation_z, vector


def one(segment) -> Path:
    return Path([Piece(segment, "only", "body")])


def searched(path: Path, radius: float) -> Array:
    """Box of the surface points themselves: a dense grid, then ever finer grids near the best."""
    box = np.empty((2, 3))
    s = np.linspace(0, path.length, 4000)
    phi = np.linspace(0, 2 * np.pi, 97)
    for axis in range(3):
        for side, sign in ((0, -1.0), (1, 1.0)):
            value = sign * surface(path, s[:, None], phi[None], radius)[..., axis]
            best = np.unravel_index(np.argsort(value, axis=None)[-40:], value.shape)
            top = [
                zoomed(path, radius, axis, sign, s[i], s[1] - s[0], phi[j])
                for i, j in zip(best[0][::-8], best[1][::-8], strict=True)
            ]
            box[side, axis] = sign * max(top)
    return box


def surface(path: Path, s: Array, phi: Array, radius: float) -> Array:
    flat = s.ravel()
    c, n, t = path.point(flat), path.normal(flat), path.tangent(flat)
    around = np.cos(phi)[..., None] * n[:, None] + np.sin(phi)[..., None] * np.cross(t, n)[:, None]
    return c[:, None] + radius * around


def zoomed(path, radius, axis, sign, s0, ds, phi0) -> float:
    dphi, top = 0.1, -math.inf
    for _ in range(8):
        s = np.clip(np.linspace(s0 - ds, s0 + ds, 21), 0, path.length)
        phi = np.linspace(phi0 - dphi, phi0 + dphi, 21)
        value = sign * surface(path, s, phi, radius)[..., axis]
        i, j = np.unravel_index(np.argmax(value), value.shape)
        top, s0, phi0 = max(top, float(value[i, j])), s[i], phi[j]
        ds, dphi = ds / 4, dphi / 4
    return top


def test_line_along_an_axis() -> None:
    box = tube_box(one(Line.between(vector(0, 0, 0), vector(0, 0, 3))), 0.5)
    assert np.allclose(box, [[-0.5, -0.5, 0], [0.5, 0.5, 3]], atol=1e-14)


def test_skew_line() -> None:
    end = vector(1, 2, 2)
    box = tube_box(one(Line.between(np.zeros(3), end)), 0.5)
    reach = 0.5 * np.sqrt(1 - (end / 3) ** 2)
    assert np.allclose(box, [-reach, end + reach], atol=1e-14)


def test_torus_arc() -> None:
    box = tube_box(one(Arc(radius=2.0, angle=5.0)), 0.5)
    assert np.allclose(box, [[-2.5, -2.5, -0.5], [2.5, 2.5, 0.5]], atol=1e-13)


def test_quarter_torus() -> None:
    box = tube_box(one(Arc(radius=2.0, angle=math.pi / 2)), 0.5)
    assert np.allclose(box, [[0, 0, -0.5], [2.5, 2.5, 0.5]], atol=1e-13)


def test_helix_of_whole_turns() -> None:
    helix = Helix(radius=4.0, pitch=1.05, turns=8.0)
    box = tube_box(one(helix), 0.5)
    up = 0.5 * math.cos(helix.lead_angle)
    assert np.allclose(box[:, 2], [-up, 8 * 1.05 + up], atol=1e-12)
    # outermost where the wire crosses the plane y = 0 within the body
    assert box[1, 0] == pytest.approx(4.5, abs=1e-12)


def test_against_the_surface(path: Path) -> None:
    assert np.allclose(tube_box(path, 0.5), searched(path, 0.5), atol=1e-6)


@pytest.mark.parametrize("tilt", [1e-5, 1e-4, 1e-3, 1e-2])
def test_long_body_a_little_off_its_axis(tilt: float) -> None:
    """Each coil reaches a little further than the one before; only the last one counts."""
    helix = Helix(radius=4.0, pitch=1.05, turns=60.3)
    c, s = math.cos(tilt), math.sin(tilt)
    path = one(helix).moved(np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]]), np.zeros(3))
    q = np.linspace(0, path.length, 400_001)
    reach = path.point(q) + 0.5 * np.sqrt(1 - path.tangent(q) ** 2)
    assert np.allclose(tube_box(path, 0.5)[1], reach.max(axis=0), atol=1e-6)


def test_cone_with_hardly_any_taper() -> None:
    path = one(ConicalHelix(radius=4.0, end_radius=4.001, pitch=1.05, turns=10.0))
    q = np.linspace(0.88 * path.length, path.length, 10_001)  # more than a turn at the wide end
    reach = path.point(q) + 0.5 * np.sqrt(1 - path.tangent(q) ** 2)
    assert np.allclose(tube_box(path, 0.5)[1], reach.max(axis=0), atol=1e-6)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.1, 6.0), st.floats(0.0, 6.3), st.floats(0.8, 4.0))
def test_any_arc(angle: float, turn: float, radius: float) -> None:
    path = one(Arc(radius=radius, angle=angle)).moved(rotation_z(turn), np.zeros(3))
    a = turn + np.linspace(0, angle, 20_001)
    centre = radius * np.column_stack([np.cos(a), np.sin(a)])
    reach = 0.5 * np.abs(np.column_stack([np.cos(a), np.sin(a)]))
    box = tube_box(path, 0.5)
    assert np.allclose(box[1, :2], (centre + reach).max(axis=0), atol=1e-6)
    assert np.allclose(box[0, :2], (centre - reach).min(axis=0), atol=1e-6)
