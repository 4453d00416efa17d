"""How near the wire comes to itself, against searches that know nothing of the formulas."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize, minimize_scalar
from scipy.spatial import cKDTree

import springgeo as sg
from springgeo.curve import (
    Arc,
    Helix,
    Line,
    Path,
    Piece,
    body_approach,
    hook_approach,
    pitch_for_distance,
    turn_distance,
)
from springgeo.curve.frame import FLIP, MIRROR, vector

DIAMETER = 1.0
radii = st.floats(0.5, 50.0)
slopes = st.floats(0.005, 2.0)


@given(radii, slopes)
def test_turn_distance(R: float, slope: float) -> None:
    p = slope * R

    def gap(t: float) -> float:
        a = np.array([R, 0.0, 0.0])
        b = np.array([R * math.cos(t), R * math.sin(t), p * t / (2 * math.pi)])
        return float(np.linalg.norm(a - b))

    found = minimize_scalar(
        gap, bounds=(1.5 * math.pi, 2.2 * math.pi), method="bounded", options={"xatol": 1e-12}
    )
    assert turn_distance(R, p) == pytest.approx(found.fun, rel=1e-9)
    assert turn_distance(R, p) < p


@given(radii, st.floats(0.3, 50.0))
def test_turn_distance_of_any_helix(R: float, slope: float) -> None:
    """Never nearer than the wire half a turn on: nothing of another turn is, however steep."""
    pitch = slope * R
    away = np.linspace(1.2 * math.pi, 2 * math.pi, 20001)
    gap = np.hypot(2 * R * np.sin(away / 2), pitch * away / (2 * math.pi))
    assert turn_distance(R, pitch) >= gap.min() * (1 - 1e-6)
    assert turn_distance(R, pitch) <= pitch


def test_turn_distance_has_no_step_where_turns_cease_to_face_each_other() -> None:
    limit = 2 * math.pi * math.sqrt(0.21723362821122166)
    below, above = (turn_distance(1.0, limit * f) for f in (1 - 1e-9, 1 + 1e-9))
    assert below == pytest.approx(above, rel=1e-8)


@given(radii, slopes)
def test_pitch_for_distance(R: float, slope: float) -> None:
    distance = slope * R
    pitch = pitch_for_distance(R, distance)
    assert turn_distance(R, pitch) == pytest.approx(distance, rel=1e-11)
    assert pitch > distance


@given(st.floats(2.0, 12.0), st.floats(0.3, 3.0), st.floats(1.5, 5.0))
@settings(max_examples=25, deadline=None)
def test_body_approach(R: float, pitch: float, turns: float) -> None:
    helix = Helix(radius=R, pitch=pitch, turns=turns)
    lead = Line.between(vector(R, -1, 0), vector(R, 0, 0))
    path = Path([Piece(lead, "lead", "straight"), Piece(helix, "coils", "body")])
    found = body_approach(path)
    assert found is not None
    s = np.linspace(0, helix.length, 4001)
    p = helix.point(s)
    apart, near = cKDTree(p).query(p, k=60, distance_upper_bound=1.2 * pitch)
    far = (np.abs(s[:, None] - s[np.minimum(near, len(s) - 1)]) > helix.turn_length / 2) & (
        near < len(s)
    )
    if far.any():
        assert found.distance == pytest.approx(apart[far].min(), rel=2e-3)
        assert found.distance <= apart[far].min() + 1e-12
    assert found.labels == ("coils", "coils")
    assert path.find(np.array(found.at)).tolist() == [1, 1]


@pytest.mark.parametrize("pitch", [0.5, 1.05, 4.0])
def test_body_approach_is_where_it_says(pitch: float) -> None:
    path = Path([Piece(Helix(radius=4.0, pitch=pitch, turns=3.0), "body", "body")])
    found = body_approach(path)
    assert found is not None
    a, b = path.point(np.array(found.at))
    assert np.linalg.norm(a - b) == pytest.approx(found.distance, rel=1e-12)


def test_no_turn_no_approach() -> None:
    assert body_approach(Path([Piece(Line(span=3.0), "wire", "straight")])) is None
    short = Helix(radius=4.0, pitch=1.0, turns=0.9)
    assert body_approach(Path([Piece(short, "body", "body")])) is None


def brute(path: Path, reach: float = 2.0) -> tuple[float, float, float] | None:
    """Least distance and its two places, from dense samples refined by a general minimiser."""
    s = np.linspace(0, path.length, int(path.length / 0.04))
    p = path.point(s)
    outside = np.array([x.role != "body" for x in path.pieces])[path.find(s)]
    pairs = cKDTree(p[outside]).sparse_distance_matrix(
        cKDTree(p[::4]), reach * DIAMETER, output_type="coo_matrix"
    )
    a, b = s[outside][pairs.row], s[::4][pairs.col]
    far = np.abs(a - b) > 3 * DIAMETER
    if not far.any():
        return None
    a, b, gap = a[far], b[far], pairs.data[far]
    i = np.argmin(gap)

    def squared(x: np.ndarray) -> float:
        q = path.point(x)
        return float(np.sum((q[0] - q[1]) ** 2))

    hold = [(max(0.0, x - 0.2), min(path.length, x + 0.2)) for x in (a[i], b[i])]
    best = minimize(squared, [a[i], b[i]], bounds=hold, tol=1e-15)
    return math.sqrt(best.fun), float(best.x[0]), float(best.x[1])


@settings(max_examples=20, deadline=None)
@given(
    bend=st.floats(1.0, 2.0),
    leg=st.floats(0.1, 6.0),
    loop=st.floats(1.8, 4.0),
    angle=st.floats(2.0, 6.0),
    left=st.booleans(),
)
def test_hook_approach(bend, leg, loop, angle, left, make_hooked) -> None:
    path = make_hooked(bend=bend, leg=leg, loop=loop, angle=angle)
    if left:
        path = path.moved(MIRROR, np.zeros(3)).reversed()
    wanted, found = brute(path), hook_approach(path, DIAMETER)
    if wanted is None or wanted[0] > 1.9 * DIAMETER:
        assert found is None or found.distance > 1.85 * DIAMETER
        return
    if abs(wanted[1] - wanted[2]) < 3.3 * DIAMETER:
        return  # its own neighbour: where that ends is a convention
    assert found is not None
    assert found.distance == pytest.approx(wanted[0], abs=1e-6)
    a, b = path.point(np.array(found.at))
    assert np.linalg.norm(a - b) == pytest.approx(found.distance, abs=1e-12)
    roles = {piece.label: piece.role for piece in path.pieces}
    assert any(roles[label] != "body" for label in found.labels)


@pytest.mark.parametrize("load", [0.5, 1.3, 3.0])
def test_hooks_of_a_loaded_spring(load: float) -> None:
    """The nearest place does not slide into coils that part further along: those are the body's."""
    spring = sg.Spring.from_preset("gate-latch")
    state = spring.at(load=load * float(spring.summary().initial_tension.force))
    path, d = state.geometry.path, state.geometry.wire_diameter
    roles = {piece.label: piece.role for piece in path.pieces}
    body = [start for piece, start in path if piece.role == "body"]
    s = np.linspace(0, path.length, int(path.length / (0.02 * d)))
    hook = s[
        (s < body[0])
        | (s > body[0] + path.pieces[path.find(np.array([body[0]]))[0]].segment.length)
    ]
    hook = np.append(hook, body[0])
    p, q = path.point(hook), path.point(s)
    near = cKDTree(q).query(p, k=400)
    gap = np.where(np.abs(hook[:, None] - s[near[1]]) > 3 * d, near[0], np.inf)
    found = hook_approach(path, d)
    assert found is not None
    assert found.distance == pytest.approx(gap.min(), abs=1e-3 * d)
    assert roles[found.labels[0]] != "body"


def test_cut_end_beside_the_leg(make_hooked) -> None:
    """The nearest place is the wire's very end: only the place on the leg is free to move."""
    path = make_hooked(bend=1.5, leg=4.0, loop=3.0, angle=5.9)
    found = hook_approach(path, DIAMETER)
    assert found is not None
    assert found.at[1] == path.length
    end, leg = path.point(np.array([path.length])), np.linspace(*path.starts[2:4], 200_001)
    gap = np.linalg.norm(path.point(leg) - end, axis=1).min()
    assert found.distance == pytest.approx(gap, abs=1e-9)
    assert found.labels == ("leg", "loop")


def test_crossing_lines() -> None:
    """A wire that turns back over itself 0.8 above: the nearest places are known."""
    low = Line.between(vector(-5, 0, 0), vector(5, 0, 0))
    away = Line.between(vector(5, 0, 0), vector(5, 9, 0.8))
    back = Line.between(vector(5, 9, 0.8), vector(-5, -5, 0.8))
    path = Path(Piece(x, n, "straight") for x, n in ((low, "low"), (away, "away"), (back, "back")))
    found = hook_approach(path, DIAMETER)
    assert found is not None
    assert found.distance == pytest.approx(0.8, abs=1e-12)
    assert set(found.labels) == {"low", "back"}


def test_places_that_slide_together_hide_no_other() -> None:
    """The nearest stations lie on both legs of a bend and end as one place: the next ones count."""
    low = Line.between(vector(-14, 0, 0), vector(0, 0, 0))
    turn = math.radians(160)
    bend = Arc.leaving(vector(0, 0, 0), vector(1, 0, 0), vector(0, 1, 0), 0.6, turn)
    start, along = (f(np.array([bend.length]))[0] for f in (bend.point, bend.tangent))
    corners = [start, start + 8 * along, vector(-10, 5, 1.95), vector(-10, -5, 1.95)]
    legs = [Line.between(a, b) for a, b in itertools.pairwise(corners)]
    names = ("low", "bend", "back", "rise", "across")
    path = Path(Piece(x, n, "straight") for x, n in zip((low, bend, *legs), names, strict=True))
    found = hook_approach(path, DIAMETER)
    assert found is not None
    assert found.distance == pytest.approx(1.95, abs=1e-12)
    assert set(found.labels) == {"low", "across"}


def test_nothing_near() -> None:
    path = Path([Piece(Line(span=50.0), "wire", "straight")])
    assert hook_approach(path, DIAMETER) is None


def test_body_against_itself_does_not_count() -> None:
    path = Path([Piece(Helix(radius=4.0, pitch=0.5, turns=3.0), "body", "body")])
    assert hook_approach(path, DIAMETER) is None


def test_same_from_either_side(make_hooked) -> None:
    path = make_hooked(leg=1.0, loop=3.0, angle=5.0)
    there, flipped = (
        hook_approach(x, DIAMETER) for x in (path, path.moved(FLIP, np.ones(3)).reversed())
    )
    assert there is not None
    assert flipped is not None
    assert flipped.distance == pytest.approx(there.distance, abs=1e-9)
    assert sorted(path.length - np.array(flipped.at)) == pytest.approx(sorted(there.at), abs=1e-5)
