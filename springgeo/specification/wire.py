"""The wire: material and diameter, and what a textbook may set in place of the tables."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, field_validator

from springgeo.specification.base import SpecModel, rule, within
from springgeo.specification.quantity import Length, Stress

LONGEST_NAME = 500


class Wire(SpecModel):
    """Material by its identifier (``springgeo materials``), a path to a material file, or inline.

    Inline it is the content of such a file as a mapping; a file's content takes the path's place
    as soon as it is read, so that results say what they were made of and not where it lay.

    ``tensile_law`` chooses the standard's table (the default) or a textbook power law;
    ``tensile_strength``, ``shear_modulus`` and ``elastic_modulus`` override the material's.
    """

    material: Annotated[str, Field(min_length=1, max_length=LONGEST_NAME)] | dict[str, Any] = (
        "astm-a228"
    )
    diameter: Length
    tensile_law: str = Field(default="table", max_length=60)
    tensile_strength: Stress | None = None
    shear_modulus: Stress | None = None
    elastic_modulus: Stress | None = None

    @field_validator("material", mode="before")
    @classmethod
    def _material(cls, value: object) -> object:
        if isinstance(value, Mapping):
            return {str(k): v for k, v in value.items()}
        if not isinstance(value, str):
            text = (
                "needs a text: a material's name or file, or a mapping with such a file's content"
            )
            raise rule("not-a-text", text)
        if not value:
            raise rule("text-empty", "must not be empty")
        if len(value) > LONGEST_NAME:
            raise rule("text-too-long", "is too long")
        return value

    @field_validator("diameter")
    @classmethod
    def _diameter(cls, value: float) -> float:
        return within("wire_diameter", value, "mm", "wire-diameter")

    @field_validator("tensile_strength")
    @classmethod
    def _strength(cls, value: float | None) -> float | None:
        if value is None:
            return value
        return within("tensile_strength", value, "MPa", "tensile-strength")

    @field_validator("shear_modulus", "elastic_modulus")
    @classmethod
    def _modulus(cls, value: float | None) -> float | None:
        return value if value is None else within("modulus", value, "MPa", "modulus")


Hand = Literal["right", "left"]
