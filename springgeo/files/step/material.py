"""The material of the product in a STEP file: a name and a density.

The kernel's own material writer gives the density a wrong unit, and its reader takes any
property of the product for the material, the last one winning: these come after all attributes.
"""

from __future__ import annotations

from typing import NamedTuple

from springgeo.files.step.anchors import Anchors
from springgeo.files.step.attributes import add_property
from springgeo.files.step.part21 import Entities, real, string
from springgeo.files.step.unit_text import add_unit


class StepMaterial(NamedTuple):
    """``density`` in kg/m³."""

    name: str
    density: float


def add_material(entities: Entities, at: Anchors, material: StepMaterial) -> None:
    """Attach the material to the product; the density is written in g/cm³."""
    name = string(material.name)
    item = entities.add(f"DESCRIPTIVE_REPRESENTATION_ITEM({name},{name})")
    _add(entities, at, item, "material name")
    value = f"POSITIVE_RATIO_MEASURE({real(material.density / 1000)})"
    unit = add_unit(entities, "g/cm^3")
    item = entities.add(f"MEASURE_REPRESENTATION_ITEM('density measure',{value},{unit})")
    _add(entities, at, item, "density")


def _add(entities: Entities, at: Anchors, item: str, title: str) -> None:
    add_property(entities, at, ("material property", title), item, title)
