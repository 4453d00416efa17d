"""The wire: material and diameter, and what a textbook may set in place of the tables."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, field_validator

from springgeo.specification.base import SpecModel, within
from springgeo.specification.quantity import Length, Stress


class Wire(SpecModel):
    """Material by its identifier (``springgeo materials``) or a path to a material file.

    ``tensile_law`` chooses the standard's table (the default) or a textbook power law;
    ``tensile_strength``, ``shear_modulus`` and ``elastic_modulus`` override the material's.
    """

    material: str = Field(default="astm-a228", min_length=1, max_length=500)
    diameter: Length
    tensile_law: str = Field(default="table", max_length=60)
    tensile_strength: Stress | None = None
    shear_modulus: Stress | None = None
    elastic_modulus: Stress | None = None

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
