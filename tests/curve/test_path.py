"""The chain of pieces: where they start, how they join, and the normal carried over joints."""

from __future__ import annotations

import math

import numpy as np
import pytest

from springgeo.curve import Arc, Line, Path, Piece
from springgeo.curve.frame import vector

SHORT = 1e-7


def joints(path: Path) -> np.ndarray:
    return path.starts[1:-1]


def test_length_and_starts(path: Path, make_hooked) -> None:
    body = math.hypot(2 * math.pi * 4.0, 1.05) * 3.25
    bend = 1.4 * (math.pi / 2 - math.atan2(1.05, 2 * math.pi * 4.0))
    assert path.length == pytest.approx(body + bend + 2.0 + 4.0 * 3.0, rel=1e-14)
    assert path.starts[0] == 0.0
    for (piece, start), after in zip(path, path.starts[1:], strict=True):
        assert after - start == pytest.approx(piece.segment.length, rel=1e-13)
    with pytest.raises(ValueError, match="read-only"):
        path.starts[0] = 1.0


def test_joints_are_smooth(path: Path) -> None:
    assert len(path.joint_gaps()) == len(path.pieces) - 1
    assert path.joint_gaps().max() < 1e-12
    assert path.joint_angles().max() < 1e-12


def test_curvature_jumps(make_hooked) -> None:
    path = make_hooked()
    jumps = path.curvature_jumps()
    lead = path.pieces[0].segment.lead_angle
    assert jumps[0] == pytest.approx(1 / 1.4, rel=1e-12)  # the cylinder's share is common
    assert jumps[1] == pytest.approx(1 / 1.4, rel=1e-12)
    assert jumps[2] == pytest.approx(1 / 4.0, rel=1e-12)
    assert lead > 0


def test_a_kink_and_a_gap_are_seen() -> None:
    first = Line.between(vector(0, 0, 0), vector(1, 0, 0))
    bent = Line.between(vector(1, 0, 0), vector(1, 1e-3, 0) + vector(1, 0, 0))
    apart = Line.between(vector(1, 0.25, 0), vector(2, 0.25, 0))
    assert Path([Piece(first, "a", "body"), Piece(bent, "b", "body")]).joint_angles()[
        0
    ] == pytest.approx(1e-3, rel=1e-3)
    assert Path([Piece(first, "a", "body"), Piece(apart, "b", "body")]).joint_gaps()[
        0
    ] == pytest.approx(0.25)


def test_point_and_tangent_are_continuous(path: Path) -> None:
    for s in joints(path):
        near = np.array([s - SHORT, s + SHORT])
        assert np.linalg.norm(np.diff(path.point(near), axis=0)) < 3 * SHORT
        assert np.linalg.norm(np.diff(path.tangent(near), axis=0)) < 3 * SHORT


def test_normal_is_continuous_and_across(path: Path) -> None:
    for s in joints(path):
        near = np.array([s - SHORT, s + SHORT])
        assert np.linalg.norm(np.diff(path.normal(near), axis=0)) < 5 * SHORT
    s = np.linspace(0, path.length, 3001)
    n = path.normal(s)
    assert np.allclose(np.linalg.norm(n, axis=1), 1.0, atol=1e-12)
    assert np.abs(np.sum(n * path.tangent(s), axis=1)).max() < 1e-11
    assert np.linalg.norm(np.diff(n, axis=0), axis=1).max() < 3 * (s[1] - s[0])


def test_normal_starts_with_the_first_segment(path: Path) -> None:
    start = np.zeros(1)
    assert np.allclose(path.normal(start), path.pieces[0].segment.normal(start), atol=1e-14)


def test_twist_is_undone_between_planes() -> None:
    """Two arcs in planes at 70 deg to each other: the second's own normal would jump by that."""
    turn = math.radians(70)
    first = Arc.leaving(vector(0, 0, 0), vector(1, 0, 0), vector(0, 1, 0), 2.0, 1.0)
    end = np.array([first.length])
    p, t = first.point(end)[0], first.tangent(end)[0]
    own = first.normal(end)[0]
    toward = -(math.cos(turn) * own + math.sin(turn) * np.cross(t, own))
    second = Arc.leaving(p, t, toward, 3.0, 1.0)
    path = Path([Piece(first, "a", "loop"), Piece(second, "b", "loop")])
    jump = math.acos(float(own @ second.normal(np.zeros(1))[0]))
    assert jump == pytest.approx(turn, rel=1e-9)
    near = np.array([first.length - SHORT, first.length])
    assert np.linalg.norm(np.diff(path.normal(near), axis=0)) < 3 * SHORT
    # an arc's normal is carried without twist: the angle to its own stays the same along it
    s = first.length + np.linspace(0, second.length, 9)
    cosine = np.sum(path.normal(s) * second.normal(s - first.length), axis=1)
    assert np.allclose(cosine, math.cos(turn), atol=1e-12)


def test_find(path: Path) -> None:
    middle = (path.starts[1:] + path.starts[:-1]) / 2
    assert path.find(middle).tolist() == list(range(len(path.pieces)))
    assert path.find(joints(path)).tolist() == list(range(1, len(path.pieces)))
    assert path.find(np.array([-1.0, path.length, path.length + 1])).tolist() == [
        0,
        len(path.pieces) - 1,
        len(path.pieces) - 1,
    ]


def test_samples(path: Path) -> None:
    got = path.sample(0.3)
    assert np.all(np.diff(got.s) <= 0.3 + 1e-12)
    assert np.all(np.diff(got.s) >= -1e-12)
    for i in range(len(path.pieces)):
        own = got.s[got.index == i]
        assert own[0] == path.starts[i]
        assert own[-1] == pytest.approx(path.starts[i + 1], rel=1e-14)
    assert np.allclose(got.point, path.point(got.s), atol=1e-12)
    assert np.allclose(got.tangent, path.tangent(got.s), atol=1e-12)
    assert np.allclose(got.normal, path.normal(got.s), atol=1e-11)
    inside = ~np.isin(got.s, path.starts)
    inside &= np.abs(got.s[:, None] - path.starts).min(axis=1) > 1e-9
    assert np.allclose(got.curvature[inside], path.curvature(got.s)[inside], atol=1e-12)


@pytest.mark.parametrize("mirror", [False, True])
def test_moved(path: Path, mirror: bool) -> None:
    axes = np.linalg.qr(np.random.default_rng(2).normal(size=(3, 3)))[0]
    axes *= np.linalg.det(axes) * (-1 if mirror else 1)
    origin, s = np.array([5.0, -1.0, 2.0]), np.linspace(0, path.length, 101)
    moved = path.moved(axes, origin)
    assert moved.length == path.length
    assert np.allclose(moved.point(s), origin + path.point(s) @ axes.T, atol=1e-11)
    for name in ("tangent", "curvature", "normal"):
        assert np.allclose(getattr(moved, name)(s), getattr(path, name)(s) @ axes.T, atol=1e-11)
    assert [p.label for p in moved.pieces] == [p.label for p in path.pieces]


def test_reversed(path: Path) -> None:
    back, s = path.reversed(), np.linspace(0.01, path.length - 0.01, 101)
    assert back.length == pytest.approx(path.length, rel=1e-15)
    assert np.allclose(back.point(s), path.point(path.length - s), atol=1e-11)
    assert np.allclose(back.tangent(s), -path.tangent(path.length - s), atol=1e-11)
    assert back.joint_gaps().max() < 1e-12
    assert [p.label for p in back.pieces] == [p.label for p in path.pieces][::-1]


def test_pieces_of_no_length_are_left_out() -> None:
    line = Piece(Line(span=2.0), "line", "straight")
    path = Path([Piece(Line(span=0.0), "nothing", "straight"), line])
    assert path.pieces == (line,)
    with pytest.raises(ValueError, match="positive length"):
        Path([Piece(Line(span=0.0), "nothing", "straight")])
    with pytest.raises(ValueError, match="positive length"):
        Path([])
