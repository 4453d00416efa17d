"""A specification with some values changed is the one a file with them would hold."""

from __future__ import annotations

import pytest

from springgeo.errors import SpecError
from tests.springs import kept

SPRING = kept("gate-latch")


def test_one_value() -> None:
    other = SPRING.with_(wire__diameter="1.4 mm")
    assert other.spec.wire.diameter == 1.4
    assert SPRING.spec.wire.diameter == 1.2
    assert other.spec.model_copy(update={"wire": SPRING.spec.wire}) == SPRING.spec


def test_another_form_takes_the_old_ones_place() -> None:
    assert SPRING.spec.body.mean_diameter is not None
    by_index = SPRING.with_(body__index=9).spec.body
    assert (by_index.index, by_index.mean_diameter) == (9, None)
    stress = SPRING.with_({"body.initial_stress": 80}).spec.body
    assert (stress.initial_stress, stress.initial_tension) == (80, None)
    pitch = SPRING.with_({"body.pitch": 2.0, "body.initial_tension": None}).spec.body
    assert pitch.is_open


def test_another_style_leaves_the_old_parameters_behind() -> None:
    other = SPRING.with_(ends__a__style="plain")
    assert other.spec.ends.first.parameters == {}
    both = SPRING.with_({"ends.first.style": "raised-hook", "ends.first.bend_radius": 2.0})
    assert both.spec.ends.first.parameters == {"bend_radius": 2.0}


def test_none_takes_away() -> None:
    assert SPRING.with_(ends__angle=None).spec.ends.angle is None
    assert SPRING.with_(mating=None).spec.mating is None
    assert SPRING.with_({"mating.first.pin": None, "mating.first": None}).spec


@pytest.mark.parametrize(
    ("key", "value", "code"),
    [
        ("wire.diametre", 1.2, "unknown-key"),
        ("wire.diameter.x", 1.2, "bad-key"),
        ("wire.diameter", "fat", "bad-value"),
        ("body.coils", None, "missing-key"),
    ],
)
def test_refusals(key: str, value: object, code: str) -> None:
    with pytest.raises(SpecError) as caught:
        SPRING.with_({key: value})
    assert code in [f.code for f in caught.value.findings]
