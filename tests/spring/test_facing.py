"""Which way open hooks face: measured on the wire's cut ends, for every pair of styles."""

from __future__ import annotations

import math

import numpy as np
import pytest

from springgeo import Spring
from springgeo.ends import registry
from springgeo.errors import SpecError

HOOKS = sorted(n for n, s in registry.styles().items() if s.holds_load)
# its cut end lies on the axis, or beside the loop
ASIDE = {"straight-annealed-end", "double-twisted-full-loop"}
OPEN = [n for n in HOOKS if n not in ASIDE]


def spring(a: str, b: str, hand: str, **ends: object) -> Spring:
    return Spring.from_dict(
        {
            "wire": {"diameter": 1.3},
            "body": {"mean_diameter": 11.7, "coils": 10.3, "hand": hand},
            "ends": {"first": a, "second": b, **ends},
        }
    )


def seen(s: Spring) -> float:
    """Return the angle from A's cut end to B's, each seen from its own contact point, deg."""
    path = s.centreline
    cuts = path.point(np.array([0.0, path.length]))
    pairs = zip(cuts, s.model.geometry.contacts, strict=True)
    a, b = (math.atan2(*(cut - contact)[1::-1]) for cut, contact in pairs)
    return math.degrees(b - a) % 360


def apart(a: float, b: float) -> float:
    return abs((a - b + 180) % 360 - 180)


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("style", OPEN)
def test_hooks_face_as_asked(style: str, hand: str) -> None:
    for other in (style, "machine-half-loop", "full-twisted-loop"):
        for facing in (0, 90, 180, 270):
            s = spring(style, other, hand, facing=facing)
            assert apart(seen(s), facing) < 1e-6, (other, facing)
            assert apart(math.degrees(s.model.geometry.facing or 0.0), facing) < 1e-6
            assert abs(s.model.turns - 10.3) <= 0.5 + 1e-9


def test_the_angle_keeps_its_meaning_and_does_not_tell_the_sides() -> None:
    s = spring("machine-half-loop", "machine-half-loop", "right", angle=180)
    assert s.model.geometry.angle == pytest.approx(0.0, abs=1e-9)
    assert abs(s.model.turns - 10.3) <= 0.25 + 1e-9


@pytest.mark.parametrize(
    ("given", "code"),
    [({"facing": 10, "angle": 10}, "two-forms"), ({"facing": 361}, "facing-out-of-range")],
)
def test_refusals(given: dict[str, float], code: str) -> None:
    with pytest.raises(SpecError) as info:
        spring("machine-half-loop", "machine-half-loop", "right", **given)
    assert info.value.findings[0].code == code
    assert info.value.findings[0].field == "ends.facing"
