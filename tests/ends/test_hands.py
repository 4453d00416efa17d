"""A left-hand spring is the mirror image of the right-hand one, hooks included."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.ends import registry
from springgeo.ends.protocol import EndStyle
from tests.gate import thinned

from .cases import random_case

MIRROR = np.array([1.0, -1.0, 1.0])


STYLES = list(registry.styles().values())


@pytest.mark.parametrize(("style", "seed"), thinned(2, STYLES, range(200, 204)))
def test_left_is_the_mirror_of_right(style: EndStyle, seed: int) -> None:
    case = random_case(style, seed)
    right, left = case.build("right"), case.build("left")
    s = np.linspace(0.0, right.path.length, 3001)
    assert left.path.length == pytest.approx(right.path.length, rel=1e-14)
    assert left.path.point(s) == pytest.approx(
        right.path.point(s) * MIRROR, abs=1e-10 * right.length
    )
    assert [p.label for p in left.path.pieces] == [p.label for p in right.path.pieces]


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_body_turns_the_way_the_hand_says(hand: str) -> None:
    """Right hand: seen along +z the wire turns like a screw (from memory: every drawing book)."""
    g = random_case(registry.get("machine-half-loop"), 7).build(hand)  # type: ignore[arg-type]
    body, start = next((p, s) for p, s in g.path if p.role == "body")
    s = start + np.linspace(0.0, body.segment.length, 500)
    xyz = g.path.point(s)
    turned = np.diff(np.unwrap(np.arctan2(xyz[:, 1], xyz[:, 0])))
    climb = np.diff(xyz[:, 2])
    assert np.all(turned * climb > 0) == (hand == "right")
    assert np.all(turned * climb < 0) == (hand == "left")
