"""Unknown and missing keys are answered with the nearest valid word and the full path."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from springgeo.errors import SpecError
from springgeo.findings import Finding
from springgeo.specification.load import read_preset, spec_of

Refusal = Callable[[dict[str, Any]], Finding]


@pytest.mark.parametrize(
    ("part", "key", "offered"),
    [
        ("wire", "diametre", "diameter"),
        ("wire", "materail", "material"),
        ("body", "coil", "coils"),
        ("body", "mean_diamter", "mean_diameter"),
        ("body", "initial-tension", "initial_tension"),
        ("ends", "angel", "angle"),
        ("service", "load", "loads"),
        ("service", "temprature", "temperature"),
    ],
)
def test_nearest_key(
    good: dict[str, Any], refusal: Refusal, part: str, key: str, offered: str
) -> None:
    good[part][key] = 1
    found = refusal(good)
    assert found.code == "unknown-key"
    assert found.field == f"{part}.{key}"
    assert f"did you mean '{offered}'" in found.message


def test_nearest_key_at_the_top(good: dict[str, Any], refusal: Refusal) -> None:
    found = refusal(good | {"servise": {}})
    assert found.field == "servise"
    assert "did you mean 'service'" in found.message


def test_a_key_like_no_other_gets_the_list(good: dict[str, Any], refusal: Refusal) -> None:
    good["wire"]["qqq"] = 1
    assert "use one of: diameter, elastic_modulus, material" in refusal(good).message


@pytest.mark.parametrize("missing", ["wire", "body", "ends"])
def test_missing_part(good: dict[str, Any], refusal: Refusal, missing: str) -> None:
    del good[missing]
    found = refusal(good)
    assert (found.code, found.field) == ("missing-key", missing)
    assert found.message == "is missing; add it"


@pytest.mark.parametrize("part", ["wire", "body", "ends", "service"])
@pytest.mark.parametrize("value", [[], 3, "text", None])
def test_a_part_of_the_wrong_kind(
    good: dict[str, Any], refusal: Refusal, part: str, value: object
) -> None:
    found = refusal(good | {part: value})
    assert found.code == "not-a-mapping"
    assert found.field == part


@pytest.mark.parametrize(
    ("part", "key", "value", "code", "words"),
    [
        ("body", "hand", "rigth", "unknown-choice", "did you mean 'right'"),
        ("body", "hand", 3, "unknown-choice", "left"),
        ("service", "duty", "cyclical", "unknown-choice", "did you mean 'cyclic'"),
        ("service", "peened", "perhaps", "not-a-flag", "true or false"),
        ("service", "loads", 25, "not-a-list", "[25 N, 40 N]"),
        ("wire", "material", [3], "not-a-text", "text"),
        ("wire", "material", "", "text-empty", "empty"),
        ("wire", "material", "x" * 501, "text-too-long", "long"),
    ],
)
def test_values_of_the_wrong_kind(
    good: dict[str, Any],
    refusal: Refusal,
    part: str,
    key: str,
    value: object,
    code: str,
    words: str,
) -> None:
    good[part][key] = value
    found = refusal(good)
    assert (found.code, found.field) == (code, f"{part}.{key}")
    assert words in found.message


def test_all_problems_are_told_at_once(good: dict[str, Any]) -> None:
    good["wire"] = {"diameter": "thick"}
    good["body"] = {"index": 8, "coils": -1}
    good["service"] = {"duty": "never"}
    with pytest.raises(SpecError) as caught:
        spec_of(good)
    assert {f.field for f in caught.value.findings} == {
        "wire.diameter",
        "body.coils",
        "service.duty",
    }


def test_hostile_keys_stay_short(good: dict[str, Any]) -> None:
    for i in range(500):
        good["k" * 5000 + str(i)] = i
    with pytest.raises(SpecError) as caught:
        spec_of(good)
    assert len(str(caught.value)) < 10_000


def test_unknown_preset_gets_the_nearest() -> None:
    with pytest.raises(SpecError, match="did you mean 'gate-latch'"):
        read_preset("gate-lach")
