"""Names that people give, and names of materials: texts that show on paper as they are."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, StringConstraints, WithJsonSchema

from springgeo import materials
from springgeo.errors import SpecError
from springgeo.specification.base import rule
from springgeo.text.characters import hidden

LONGEST_NAME = 500


def plain(value: str) -> str:
    """Return a text without characters that do not show, or raise."""
    if (sign := hidden(value)) is not None:
        text = f"holds the character {sign}, which does not show; leave it out"
        raise rule("hidden-character", text)
    return value


# names go onto terminals, sheets and into the headers of files
Name = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1, max_length=200),
    AfterValidator(plain),
]


def _material(value: object) -> object:
    """Return a material's identifier, a path as it is, or an own material's content."""
    if isinstance(value, Mapping):
        return {str(k): v for k, v in value.items()}
    if isinstance(value, int | float) and not isinstance(value, bool):
        value = str(value)  # YAML reads 302 and 1.4310 as numbers
    if not isinstance(value, str):
        text = "needs a text: a material's name or file, or a mapping with such a file's content"
        raise rule("not-a-text", text)
    if not value:
        raise rule("text-empty", "must not be empty")
    if len(value) > LONGEST_NAME:
        raise rule("text-too-long", "is too long")
    try:
        return materials.resolve(plain(value))
    except SpecError as exc:
        first = exc.findings[0]
        raise rule(first.code, first.message) from None


# a name is stored as the identifier, whatever name of the trade was given
MaterialName = Annotated[
    str | dict[str, Any],
    BeforeValidator(_material),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "number"}, {"type": "object"}]}),
]
