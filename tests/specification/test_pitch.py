"""The pitch of touching coils and of bodies wound open."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from springgeo.findings import Finding
from springgeo.specification import Body, ResolvedBody
from springgeo.specification.load import spec_of

Refusal = Callable[[dict[str, Any]], Finding]


def _distance(body: ResolvedBody) -> float:
    """Return the distance of neighbouring turns, mm: scipy's minimum over points of the next."""
    r, lead = body.coil_radius, body.pitch / (2 * math.pi)

    def away(t: float) -> float:
        return math.hypot(r * math.cos(t) - r, r * math.sin(t), lead * t)

    around = 2 * math.pi
    found = minimize_scalar(
        away, bounds=(around - 1, around + 1), method="bounded", options={"xatol": 1e-12}
    )
    return float(found.fun)


@pytest.mark.parametrize("index", [3.0, 4.5, 8.0, 16.0, 25.0])
@pytest.mark.parametrize("clearance", [None, 0.0, 0.002, 0.01, 0.02])
@pytest.mark.parametrize("d", [0.05, 1.2, 20.0])
def test_touching_coils_lie_the_clearance_apart(
    index: float, clearance: float | None, d: float
) -> None:
    body = Body(index=index, coils=10, coil_clearance=clearance).resolve(d)
    apart = 0.002 if clearance is None else clearance
    assert _distance(body) == pytest.approx(d * (1 + apart), rel=1e-9)
    assert not body.is_open


@pytest.mark.parametrize("index", [3.0, 8.0, 25.0])
def test_touching_pitch_is_a_little_more_than_the_wire(index: float) -> None:
    """The nearest point of the next turn lies across the wire: the pitch is d/cos(lead)."""
    body = Body(index=index, coils=10, coil_clearance=0.0).resolve(1.0)
    lead = math.atan(body.pitch / (math.pi * index))
    assert body.pitch == pytest.approx(1 / math.cos(lead), rel=2e-3 / index)
    assert body.pitch > 1.0


@pytest.mark.parametrize(
    ("keys", "pitch"), [({"pitch": 2.0}, 2.0), ({"gap": 0.8}, 2.0), ({"pitch": "6 mm"}, 6.0)]
)
def test_open_pitch_is_kept(keys: dict[str, object], pitch: float) -> None:
    body = Body(index=8, coils=10, **keys).resolve(1.2)
    assert body.is_open
    assert body.pitch == pytest.approx(pitch, rel=1e-14)


@pytest.mark.parametrize(
    ("keys", "code", "limit"),
    [
        ({"gap": 0}, "pitch-too-small", "1.20"),
        ({"pitch": "1.2 mm"}, "pitch-too-small", "1.20"),
        ({"pitch": "0.5 mm"}, "pitch-too-small", "1 wire diameters"),
        ({"pitch": "6.1 mm"}, "pitch-too-large", "5 wire diameters"),
        ({"gap": "50 mm"}, "pitch-too-large", "5 wire diameters"),
    ],
)
def test_pitch_out_of_limits(
    good: dict[str, Any], refusal: Refusal, keys: dict[str, object], code: str, limit: str
) -> None:
    good["body"] |= keys
    found = refusal(good)
    assert found.code == code
    assert limit in found.message
    assert found.field.startswith("body")


def test_an_open_body_just_above_touching_is_accepted(good: dict[str, Any]) -> None:
    touching = Body(index=8, coils=10, coil_clearance=0.0).resolve(1.2).pitch
    good["body"]["pitch"] = touching * (1 + 1e-9)
    assert spec_of(good).body.is_open


def test_more_clearance_is_more_pitch() -> None:
    pitches = [
        Body(index=8, coils=5, coil_clearance=c).resolve(1.0).pitch for c in (0, 0.002, 0.01, 0.02)
    ]
    assert np.all(np.diff(pitches) > 0)
