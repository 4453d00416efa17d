"""One thing, several ways to write it down: never none where one is needed, never two."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations
from typing import Any

import pytest

from springgeo.findings import Finding
from springgeo.specification.load import spec_of

Refusal = Callable[[dict[str, Any]], Finding]
# d = 1.2 mm and C = 8: the same body four times
FORMS = {
    "mean_diameter": "9.6 mm",
    "outer_diameter": "10.8 mm",
    "inner_diameter": "8.4 mm",
    "index": 8,
}


def _body(data: dict[str, Any], **keys: object) -> dict[str, Any]:
    return data | {"body": {"coils": 18.5, **keys}}


@pytest.mark.parametrize("form", FORMS)
def test_every_form_of_the_diameter_gives_the_same_body(good: dict[str, Any], form: str) -> None:
    spec = spec_of(_body(good, **{form: FORMS[form]}))
    body = spec.body.resolve(spec.wire.diameter)
    assert body.mean_diameter == pytest.approx(9.6, rel=1e-14)
    assert body.index == pytest.approx(8.0, rel=1e-14)
    assert body.coil_radius == pytest.approx(4.8, rel=1e-14)


@pytest.mark.parametrize(("one", "two"), list(combinations(FORMS, 2)))
def test_two_forms_are_refused_by_name(
    good: dict[str, Any], refusal: Refusal, one: str, two: str
) -> None:
    found = refusal(_body(good, **{one: FORMS[one], two: FORMS[two]}))
    assert found.code == "two-forms"
    assert found.field == "body"
    assert f"{one} and {two}" in found.message
    assert "keep one" in found.message


def test_four_forms_are_refused(good: dict[str, Any], refusal: Refusal) -> None:
    assert refusal(_body(good, **FORMS)).code == "two-forms"


def test_no_form_lists_all(good: dict[str, Any], refusal: Refusal) -> None:
    found = refusal(_body(good))
    assert found.code == "missing-alternative"
    assert all(form in found.message for form in FORMS)


@pytest.mark.parametrize(
    ("pair", "words"),
    [
        ({"initial_tension": "7 N", "initial_stress": "90 MPa"}, "initial_stress"),
        ({"pitch": "2 mm", "gap": "0.8 mm"}, "gap"),
        ({"pitch": "2 mm", "coil_clearance": 0.001}, "coil_clearance"),
        ({"gap": "0.8 mm", "coil_clearance": 0.001}, "coil_clearance"),
    ],
)
def test_other_pairs_that_contradict(
    good: dict[str, Any], refusal: Refusal, pair: dict[str, object], words: str
) -> None:
    found = refusal(_body(good, index=8, **pair))
    assert found.code == "two-forms"
    assert words in found.message


@pytest.mark.parametrize("tension", [{"initial_tension": "7 N"}, {"initial_stress": "90 MPa"}])
@pytest.mark.parametrize("opened", [{"pitch": "2 mm"}, {"gap": "0.8 mm"}, {"gap": 0.8}])
def test_open_coils_hold_no_initial_tension(
    good: dict[str, Any], refusal: Refusal, tension: dict[str, str], opened: dict[str, str]
) -> None:
    found = refusal(_body(good, index=8, **tension, **opened))
    assert found.code == "tension-in-open-coils"
    assert "touching coils" in found.message


def test_no_initial_tension_may_be_said_of_open_coils(good: dict[str, Any]) -> None:
    spec = spec_of(_body(good, index=8, pitch="2 mm", initial_tension=0))
    assert spec.body.is_open


@pytest.mark.parametrize(
    ("service", "code"),
    [
        ({"duty": "cyclic"}, "cycles-missing"),
        ({"duty": "infinite", "cycles": 1e6}, "two-forms"),
    ],
)
def test_duty_and_cycles_belong_together(
    good: dict[str, Any], refusal: Refusal, service: dict[str, object], code: str
) -> None:
    found = refusal(good | {"service": service})
    assert found.code == code
    assert found.field == "service"
