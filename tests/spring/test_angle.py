"""The angle rule: asked for, the coils follow by at most a quarter turn; not asked, they stay."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.specification.load import spec_of
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel

# four that differ in kind; tests/ends measures every registered style
HOOKS = ["full-twisted-loop", "machine-half-loop", "raised-hook", "short-twisted-loop"]


def geometry(a: str, b: str, coils: float, hand: str, angle: object) -> Geometry:
    """Return the spring of index 8 in 1 mm wire."""
    return SpringModel.of(
        spec_of(
            {
                "wire": {"diameter": 1.0},
                "body": {"index": 8, "coils": coils, "hand": hand},
                "ends": {"first": {"style": a}, "second": {"style": b}, "angle": angle},
            }
        )
    ).geometry


def measured_angle(g: Geometry) -> float:
    """Return the angle of loop B's plane from XZ about +z, deg, 0 ≤ angle < 180, from points."""
    loop = next(p for p in g.path.pieces if p.label == "second.loop")
    xyz = loop.segment.point(np.linspace(0, loop.segment.length, 100))
    _, _, axes = np.linalg.svd(xyz[:, :2], full_matrices=False)
    return math.degrees(math.atan2(axes[0, 1], axes[0, 0])) % 180


@settings(max_examples=60)
@given(
    a=st.sampled_from(HOOKS),
    b=st.sampled_from(HOOKS),
    coils=st.floats(2.5, 20.0),
    hand=st.sampled_from(["right", "left"]),
    angle=st.floats(-360.0, 360.0),
)
def test_angle_asked_for(a: str, b: str, coils: float, hand: str, angle: float) -> None:
    g = geometry(a, b, coils, hand, angle)
    off = math.radians(measured_angle(g) - angle)
    assert math.sin(off) == pytest.approx(0.0, abs=1e-9)
    assert abs(g.turns - coils) <= 0.25 + 1e-12, "not the nearest coil count"
    assert g.angle is not None
    assert math.sin(g.angle - math.radians(angle)) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("coils", [2.0, 7.25, 18.5])
@pytest.mark.parametrize("b", HOOKS)
def test_without_an_angle_the_coils_are_kept_to_the_letter(hand: str, coils: float, b: str) -> None:
    g = geometry("machine-half-loop", b, coils, hand, None)
    assert g.turns == coils
    assert g.angle is not None
    assert math.sin(g.angle - math.radians(measured_angle(g))) == pytest.approx(0, abs=1e-9)


def test_a_plain_end_has_no_angle() -> None:
    g = geometry("machine-half-loop", "plain", 7.3, "right", "90 deg")
    assert g.angle is None
    assert g.turns == 7.3


def test_half_a_turn_is_the_same_plane() -> None:
    turns = {geometry("raised-hook", "raised-hook", 7.3, "right", t).turns for t in (0, 180, -180)}
    assert max(turns) - min(turns) < 1e-12


def test_equal_hooks_and_half_turns_lie_in_one_plane() -> None:
    """By symmetry: the bends take the same angle at both ends of a right-hand spring."""
    g = geometry("machine-half-loop", "machine-half-loop", 7.0, "right", 0)
    taken = 2 * (g.first.azimuth or 0.0) / (2 * math.pi)
    assert (2 * (g.turns + taken)) % 1.0 == pytest.approx(0.0, abs=1e-9)
