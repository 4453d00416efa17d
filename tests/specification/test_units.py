"""Quantities in a specification: trade units in, mm, N and MPa inside."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from springgeo.findings import Finding
from springgeo.specification.load import spec_of

Refusal = Callable[[dict[str, Any]], Finding]

# (place, as written, inside); inch and pound are exact by definition (published: ISO 80000-3, -4)
SAME = [
    ("wire.diameter", "0.047 in", 1.1938),
    ("wire.diameter", '0.047"', 1.1938),
    ("wire.diameter", "47 mil", 1.1938),
    ("wire.diameter", "3/64 in", 1.190625),
    ("wire.diameter", "0.12 cm", 1.2),
    ("wire.diameter", "1200 um", 1.2),
    ("wire.diameter", 1.2, 1.2),
    ("wire.diameter", "1.2", 1.2),
    ("wire.diameter", "1.2mm", 1.2),
    ("wire.diameter", "+1.2e0 mm", 1.2),
    ("wire.tensile_strength", "300 ksi", 2068.4271879504),
    ("wire.tensile_strength", "300000 psi", 2068.4271879504),
    ("wire.shear_modulus", "81 GPa", 81000.0),
    ("wire.elastic_modulus", "28.5 Mpsi", 196500.58285529),
    ("body.initial_tension", "1.5 lbf", 6.6723324229),
    ("body.initial_tension", "0.68 kgf", 6.668522),
    ("body.initial_stress", "100 N/mm2", 100.0),
    ("body.coils", "18.5", 18.5),
    ("service.temperature", "68 degF", 20.0),
    ("service.temperature", "293.15 K", 20.0),
    ("service.forcing_frequency", "600 rpm", 10.0),
    ("service.cycles", "1e6", 1e6),
    ("ends.angle", 90, math.pi / 2),
    ("ends.angle", "90 deg", math.pi / 2),
    ("ends.angle", "0.25 turn", math.pi / 2),
    ("ends.angle", "1.5 rad", 1.5),
]


def _put(data: dict[str, Any], place: str, value: object) -> dict[str, Any]:
    *way, last = place.split(".")
    inside = data
    for key in way:
        inside = inside[key]
    inside[last] = value
    if last == "cycles":
        inside["duty"] = "cyclic"
    return data


@pytest.mark.parametrize(("place", "written", "inside"), SAME)
def test_units_are_turned_into_those_inside(
    good: dict[str, Any], place: str, written: object, inside: float
) -> None:
    found: Any = spec_of(_put(good, place, written))
    for key in place.split("."):
        found = getattr(found, key)
    assert found == pytest.approx(inside, rel=1e-10)


def test_lists_take_units_each(good: dict[str, Any]) -> None:
    good["service"] = {"loads": [10, "1 lbf", "0.02 kN"], "lengths": ["2 in", 60]}
    service = spec_of(good).service
    assert service.loads == pytest.approx((10, 4.4482216152605, 20), rel=1e-12)
    assert service.lengths == pytest.approx((50.8, 60), rel=1e-12)


@pytest.mark.parametrize(
    ("place", "value", "words"),
    [
        ("wire.diameter", "1.2 N", "is a force, but this is a length"),
        ("wire.diameter", "1.2 MPa", "is a stress, but this is a length"),
        ("wire.diameter", "1.2 mmm", "did you mean 'mm'"),
        ("wire.diameter", "thick", "needs a length such as '1.2 mm' or '0.047 in'"),
        ("wire.diameter", "1,200 mm", "could be thousands or a decimal comma"),
        ("wire.diameter", None, "nothing (empty)"),
        ("wire.diameter", [1.2], "a list or mapping"),
        ("wire.diameter", True, "not 'True'"),
        ("wire.diameter", "nan", "needs a length"),
        ("wire.diameter", math.nan, "not a finite number"),
        ("wire.diameter", math.inf, "not a finite number"),
        ("wire.diameter", 10**400, "not a finite number"),
        ("body.coils", "18 mm", "is a length, but this is a number"),
        ("body.initial_tension", "7 lbs", "unit 'lbs' is not known"),
        ("ends.angle", "90 mm", "is a length, but this is"),
        ("service.temperature", "20 deg", "angle, but this is a temperature such as '20 degC'"),
    ],
)
def test_wrong_units_are_named(
    good: dict[str, Any], refusal: Refusal, place: str, value: object, words: str
) -> None:
    found = refusal(_put(good, place, value))
    assert found.field == place
    assert words in found.message
