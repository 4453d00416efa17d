"""The JSON Schema for editors: valid itself, in step with the code, agrees with the reader."""

from __future__ import annotations

import json
from importlib.metadata import entry_points
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from springgeo.cli.commands.lists.new import STARTER
from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.specification.load import presets, spec_of
from springgeo.spring.json_schema import specification_schema

COMMITTED = Path(__file__).with_name("specification.schema.json")
IN_TREE = "springgeo.ends."


@pytest.fixture(scope="module")
def validator() -> Draft202012Validator:
    """Return jsonschema's validator for our schema: an independent reading of it."""
    schema = specification_schema()
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def test_the_schema_says_which_draft_it_is() -> None:
    assert specification_schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("name", presets())
def test_presets_are_valid(validator: Draft202012Validator, name: str) -> None:
    validator.validate(yaml.safe_load(presets()[name].read_text(encoding="utf-8")))


def test_the_starter_file_is_valid(validator: Draft202012Validator) -> None:
    validator.validate(yaml.safe_load(STARTER))


@pytest.mark.parametrize("name", presets())
def test_what_is_written_back_is_valid(validator: Draft202012Validator, name: str) -> None:
    spec = spec_of(yaml.safe_load(presets()[name].read_text(encoding="utf-8")))
    validator.validate(spec.model_dump(mode="json", exclude_none=True))


def _spoilt(place: str, value: object) -> dict[str, Any]:
    data = yaml.safe_load(STARTER)
    *way, last = place.split(".")
    inside = data
    for key in way:
        inside = inside[key]
    inside[last] = value
    return data


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("wire.diametre", 1.2),
        ("wire.diameter", [1.2]),
        ("body.hand", "upper"),
        ("body.coils", None),
        ("service.duty", "often"),
        ("service.loads", 3),
        ("ends.c", {"style": "plain"}),
        ("springs", 2),
    ],
)
def test_schema_and_reader_refuse_alike(
    validator: Draft202012Validator, place: str, value: object
) -> None:
    data = _spoilt(place, value)
    assert not validator.is_valid(data)
    with pytest.raises(SpecError):
        spec_of(data)


@pytest.mark.parametrize(
    "end",
    [
        {"style": "no-such-style"},
        {"style": "plain", "bend_radius": 2},
        {"style": "raised-hook", "leg": 2},
        {"style": "raised-hook", "hook_length": [20]},
        {"bend_radius": 2},
        {},
        "no-such-style",
    ],
)
def test_bad_ends_show_in_an_editor(validator: Draft202012Validator, end: object) -> None:
    assert not validator.is_valid(_spoilt("ends.first", end))


@pytest.mark.parametrize("style", registry.styles().values(), ids=lambda s: s.name)
def test_every_installed_style_can_be_chosen(validator: Draft202012Validator, style: Any) -> None:
    assert validator.is_valid(_spoilt("ends.first", style.name))
    written = {"thread": "M10", "points": [[0, 1, 0.2], ["-0.2 mm", 2, 1]]}
    given = {n: written.get(n, 2) for n in style.parameters.model_fields}
    end = {"style": style.name} | given
    assert validator.is_valid(_spoilt("ends.first", end))


def test_committed_copy_is_in_step() -> None:
    """The copy holds the in-tree styles, as the command prints them without plug-ins."""
    if any(not e.value.startswith(IN_TREE) for e in entry_points(group=registry.GROUP)):
        pytest.skip("plug-in end styles are installed")
    assert json.loads(COMMITTED.read_text(encoding="utf-8")) == specification_schema(), (
        "the schema has changed; if that is meant, run: "
        "springgeo schema > tests/specification/specification.schema.json"
    )
