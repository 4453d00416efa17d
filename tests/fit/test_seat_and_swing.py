"""Seats touch exactly, swings end where the exact clearance says, mirrors mirror."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo import Spring
from springgeo.fit import Pin, Plate, Stud, Wire, clearance, end_frame, seated, swing
from springgeo.fit.seat import Mate
from springgeo.spring.geometry import Geometry

from .conftest import specification

PARTS = {
    "pin": Pin(diameter=4, length=20),
    "oblique": Pin(diameter=3, length=20, direction=(0.0, 1.0, 0.3)),
    "turned": Pin(diameter=3, length=20, direction=(0.3, 1.0, 0.0)),
    "plate": Plate(hole_diameter=2.5, thickness=1.5, edge_distance=2.5),
    "stud": Stud(diameter=6, groove_diameter=4, groove_width=2, length=8),
}


def free(style: str, hand: str = "right") -> Geometry:
    return Spring.from_dict(specification(style, hand=hand)).model.geometry


@pytest.mark.parametrize("part", PARTS.values(), ids=PARTS)
@pytest.mark.parametrize("side", ["first", "second"])
@pytest.mark.parametrize("style", ["full-twisted-loop", "machine-half-loop", "short-twisted-loop"])
def test_a_seated_part_touches_its_hook(style: str, side: str, part: Mate) -> None:
    g = free(style)
    frame = end_frame(g, side)  # type: ignore[arg-type]
    assert frame is not None
    found = clearance(Wire.of(g.path, g.wire_diameter), seated(frame, part))
    assert found.distance == pytest.approx(0.0, abs=1e-6)
    assert found.label.startswith(f"{side}.")


def test_frame_of_end_a_is_that_of_the_spring(half: Spring) -> None:
    frame = end_frame(half.model.geometry, "first")
    assert frame is not None
    np.testing.assert_allclose(frame.origin, 0.0, atol=1e-12)
    np.testing.assert_allclose(np.abs(frame.axes), np.eye(3), atol=1e-9)
    assert np.linalg.det(frame.axes) == pytest.approx(1.0)
    assert frame.inside == pytest.approx(4.2, rel=1e-3)


@pytest.mark.parametrize("part", [PARTS["pin"], PARTS["stud"]], ids=["pin", "stud"])
def test_swing_across_ends_where_the_clearance_does(half: Spring, part: Mate) -> None:
    g = half.model.geometry
    frame = end_frame(g, "first")
    assert frame is not None
    wire = Wire.of(g.path, g.wire_diameter)
    found = swing(g, frame, "first", part).across
    assert found is not None
    for sign, limit in zip((-1, 1), found, strict=True):
        assert 3 < np.degrees(limit) < 85
        inside, beyond = (
            clearance(wire, seated(frame, part, sign * (limit + np.radians(k)))).distance
            for k in (-1.5, 1.5)
        )
        assert inside > -0.01
        assert beyond < 0


def test_swing_mirrors_with_the_hand() -> None:
    found = []
    for hand in ("right", "left"):
        g = free("machine-half-loop", hand)
        frame = end_frame(g, "first")
        assert frame is not None
        found.append(swing(g, frame, "first", PARTS["pin"]))
    right, left = found
    assert right.in_plane == pytest.approx(left.in_plane, abs=0.01)
    assert right.across == pytest.approx(left.across[::-1], abs=0.01)  # type: ignore[index]


def test_a_plate_does_not_swing(half: Spring) -> None:
    g = half.model.geometry
    frame = end_frame(g, "first")
    assert frame is not None
    found = swing(g, frame, "first", PARTS["plate"])
    assert found.in_plane is None
    assert found.across is None
