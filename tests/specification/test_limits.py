"""Each limit is kept to the letter: the limit itself passes, a hair beyond is refused."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
import yaml

from springgeo.findings import Finding
from springgeo.specification.load import spec_of
from springgeo.trade.limits import limits

Refusal = Callable[[dict[str, Any]], Finding]

# (place, low, high, code, unit): the table in the package, by hand
BOUNDS = [
    ("body.coils", 2.0, 500.0, "coils"),
    ("service.temperature", -273.15, 1000.0, "temperature"),
    ("service.loads", 0.0, 1e6, "load"),
    ("body.index", 3.0, 25.0, "index"),
    ("body.coil_clearance", 0.0, 0.02, "coil-clearance"),
    ("wire.diameter", 0.05, 20.0, "wire-diameter"),
    ("wire.tensile_strength", 10.0, 1e4, "tensile-strength"),
    ("wire.shear_modulus", 100.0, 1e6, "modulus"),
    ("wire.elastic_modulus", 100.0, 1e6, "modulus"),
    ("service.lengths", 1e-3, 1e6, "length"),
    ("service.cycles", 1.0, 1e12, "cycles"),
    ("service.forcing_frequency", 1e-6, 1e6, "forcing-frequency"),
]


def _with(data: dict[str, Any], place: str, value: float) -> dict[str, Any]:
    part, key = place.split(".")
    if part == "body":
        data["body"] = {"index": 8, "coils": 18.5}
    if part == "wire":
        data["body"] = {"index": 8, "coils": 18.5}
    if key == "cycles":
        data[part]["duty"] = "cyclic"
    data[part][key] = [value] if key in ("loads", "lengths") else value
    return data


@pytest.mark.parametrize(("place", "low", "high", "code"), BOUNDS)
def test_at_the_limit_it_is_accepted(
    good: dict[str, Any], place: str, low: float, high: float, code: str
) -> None:
    for value in (low, high):
        assert spec_of(_with(good, place, value))


@pytest.mark.parametrize(("place", "low", "high", "code"), BOUNDS)
def test_beyond_the_limit_it_is_refused(
    good: dict[str, Any], refusal: Refusal, place: str, low: float, high: float, code: str
) -> None:
    step = 1e-6 * (high - low)
    for value, side, limit in ((low - step, "small", low), (high + step, "large", high)):
        found = refusal(_with(good, place, value))
        assert found.code == f"{code}-too-{side}"
        assert f"limit {limit:g}" in found.message
        assert found.field == ("body" if code == "index" else place)


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("body.mean_diameter", 0),
        ("body.mean_diameter", -9.6),
        ("wire.tensile_strength", 0),
        ("wire.shear_modulus", "-81 GPa"),
        ("wire.elastic_modulus", 0),
        ("service.lengths", [0]),
        ("service.cycles", 0),
        ("service.forcing_frequency", -1),
        ("body.initial_tension", "-1 N"),
        ("body.initial_stress", "-1 MPa"),
    ],
)
def test_nothing_below_zero(
    good: dict[str, Any], refusal: Refusal, place: str, value: object
) -> None:
    part, key = place.split(".")
    good[part][key] = value
    found = refusal(good)
    assert found.field == place
    assert re.search("above zero|use zero|is below the limit .*; raise it", found.message)


@pytest.mark.parametrize(
    ("key", "value", "limit"),
    [
        ("initial_tension", "2 MN", "unit"),
        ("initial_tension", 1e7, "1e+06 N"),
        ("initial_tension", 2e306, "1e+06 N"),
        ("initial_stress", "11 GPa", "10000 MPa"),
    ],
)
def test_initial_tension_beyond_any_wire(
    good: dict[str, Any], refusal: Refusal, key: str, value: object, limit: str
) -> None:
    good["body"][key] = value
    found = refusal(good)
    assert found.field == f"body.{key}"
    assert limit in found.message


def test_index_from_an_outer_diameter_smaller_than_the_wire(
    good: dict[str, Any], refusal: Refusal
) -> None:
    good["body"] = {"outer_diameter": 1.0, "coils": 10}
    found = refusal(good)
    assert found.code == "index-too-small"
    assert "mean diameter -0.2 mm over wire 1.2 mm" in found.message


@pytest.mark.parametrize("angle", ["361 deg", "-361 deg", 1e308, "2 turn"])
def test_an_angle_of_more_than_a_turn(
    good: dict[str, Any], refusal: Refusal, angle: object
) -> None:
    good["ends"]["angle"] = angle
    found = refusal(good)
    assert found.code == "angle-too-large"
    assert found.field == "ends.angle"
    assert "give 0 to 180 deg" in found.message


def test_fifty_loads_and_no_more(good: dict[str, Any], refusal: Refusal) -> None:
    good["service"] = {"loads": [1.0] * 50}
    assert len(spec_of(good).service.loads) == 50
    good["service"] = {"loads": [1.0] * 51}
    assert refusal(good).code == "list-too-long"


def test_every_limit_names_its_source() -> None:
    from importlib.resources import files

    table = yaml.safe_load(files("springgeo.trade").joinpath("limits.yaml").read_text("utf-8"))
    assert set(table) == set(limits())
    for name, row in table.items():
        assert row["low"] < row["high"], name
        assert len(row["source"]) > 10, name
