"""The wire: material and diameter, and what a textbook may set in place of the tables."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator
from pydantic_core import PydanticCustomError

from springgeo.errors import SpecError
from springgeo.materials import gauges
from springgeo.materials.library import is_path
from springgeo.specification.base import SpecModel, limited, rule, within
from springgeo.specification.name import MaterialName
from springgeo.specification.quantity import Length, Stress
from springgeo.text.shown import said, together

_STRENGTH = limited("tensile_strength", "MPa", "tensile-strength")
_MODULUS = limited("modulus", "MPa", "modulus")


class Wire(SpecModel):
    """Material by a name of the trade (``springgeo materials``), a path to a file, or inline.

    Inline it is the content of such a file as a mapping; a file's content takes the path's place
    as soon as it is read, so that results say what they were made of and not where it lay.

    ``diameter`` may be a gauge number: ``18 mwg`` (music wire gauge), ``18 swg`` (US steel wire
    gauge), or ``18 ga`` where the material says which of them is meant.
    ``tensile_law`` chooses the standard's table (the default) or a textbook power law;
    ``tensile_strength``, ``shear_modulus`` and ``elastic_modulus`` override the material's,
    as figures at 20 degC.
    """

    material: MaterialName = "astm-a228"
    diameter: Length
    tensile_law: str = Field(default="table", max_length=60)
    tensile_strength: Annotated[Stress, _STRENGTH] | None = None
    shear_modulus: Annotated[Stress, _MODULUS] | None = None
    elastic_modulus: Annotated[Stress, _MODULUS] | None = None

    @model_validator(mode="before")
    @classmethod
    def _gauge(cls, data: object) -> object:
        if not isinstance(data, Mapping) or not gauges.is_gauge(data.get("diameter")):
            return data
        material = data.get("material", "astm-a228")
        try:
            # a material's own file lies beside the specification, and is not looked for here
            size = gauges.diameter(data["diameter"], None if is_path(material) else material)
        except SpecError as exc:
            found = exc.findings[0]
            raise rule(found.code, found.message, found.field) from None
        return {**data, "diameter": size}

    @field_validator("diameter")
    @classmethod
    def _diameter(cls, value: float) -> float:
        try:
            return within("wire_diameter", value, "mm", "wire-diameter")
        except PydanticCustomError as exc:
            known = exc.context or {}
            if known["code"] != "wire-diameter-too-small" or not value > 0:
                raise
            more = said("a bare number is in mm: for inches write '{d} in'", d=f"{value:g}")
            raise rule(known["code"], together(known["message"], more, by="; ")) from None


Hand = Literal["right", "left"]
