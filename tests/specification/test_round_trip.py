"""A specification written back as JSON is the same specification; and it is frozen."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from springgeo.specification import Spec
from springgeo.specification.load import presets, read_preset, spec_of
from springgeo.text.characters import hidden


def _written(spec: Spec) -> dict[str, Any]:
    data: dict[str, Any] = json.loads(spec.model_dump_json(exclude_none=True))
    return data


@pytest.mark.parametrize("name", presets())
def test_presets(name: str) -> None:
    spec = read_preset(name)
    assert spec_of(_written(spec)) == spec
    assert spec_of(spec.model_dump(mode="json")) == spec


# every physical number is a small set of digits or any float that is allowed there
@given(
    d=st.floats(0.05, 20.0),
    index=st.floats(3.0, 25.0),
    coils=st.floats(2.0, 500.0),
    angle=st.one_of(st.none(), st.floats(-360.0, 360.0)),
    loads=st.lists(st.just(0.0) | st.floats(1e-6, 1e6), max_size=5),
    opened=st.booleans(),
    name=st.text(min_size=1, max_size=200).filter(lambda x: x.strip() and not hidden(x)),
)
def test_any(
    d: float,
    index: float,
    coils: float,
    angle: float | None,
    loads: list[float],
    opened: bool,
    name: str,
) -> None:
    body = {"index": index, "coils": coils} | ({"gap": 0.7 * d} if opened else {})
    spec = spec_of(
        {
            "name": name,
            "wire": {"diameter": d},
            "body": body,
            "ends": {"first": {"style": "plain"}, "second": {"style": "plain"}, "angle": angle},
            "service": {"loads": loads},
        }
    )
    assert spec_of(_written(spec)) == spec


def test_the_angle_goes_out_with_its_unit(good: dict[str, Any]) -> None:
    """A bare number on paper is degrees, inside it is radians: the unit keeps them apart."""
    good["ends"]["angle"] = "90 deg"
    assert _written(spec_of(good))["ends"]["angle"].endswith(" rad")


def test_it_cannot_be_changed(good: dict[str, Any]) -> None:
    spec = spec_of(good)
    with pytest.raises(ValidationError):
        spec.wire.diameter = 3.0


def test_parameters_of_ends_are_kept_as_written(good: dict[str, Any]) -> None:
    good["ends"]["first"] |= {"opening": "0.02 in"}
    assert spec_of(good).ends.first.parameters == {"opening": "0.02 in"}


def test_the_mapping_given_is_left_alone(good: dict[str, Any]) -> None:
    before = json.dumps(good)
    spec_of(good)
    assert json.dumps(good) == before
