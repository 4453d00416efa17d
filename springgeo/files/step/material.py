"""The material of the product in a STEP file: a name and a density.

The kernel's own material writer gives the density a wrong unit, and its reader takes any
property of the product for the material, the last one winning: these come after all attributes.
"""

from __future__ import annotations

from typing import NamedTuple

from OCP.StepBasic import StepBasic_ProductDefinition
from OCP.StepData import StepData_StepModel
from OCP.StepRepr import (
    StepRepr_DescriptiveRepresentationItem,
    StepRepr_MeasureRepresentationItem,
    StepRepr_RepresentationContext,
)

from springgeo.files.step.attributes import add_property
from springgeo.files.step.text import kernel_text
from springgeo.files.step.units import measure_value, unit_entity

_PROPERTY = "material property"


class StepMaterial(NamedTuple):
    """``density`` in kg/m³."""

    name: str
    density: float


def add_material(
    model: StepData_StepModel,
    owner: StepBasic_ProductDefinition,
    context: StepRepr_RepresentationContext,
    material: StepMaterial,
) -> None:
    """Attach the material to a product definition; the density is written in g/cm³."""
    name = StepRepr_DescriptiveRepresentationItem()
    name.Init(kernel_text(material.name), kernel_text(material.name))
    naming = (_PROPERTY, "material name")
    add_property(model, owner, context, naming, name, title="material name")
    density = StepRepr_MeasureRepresentationItem()
    value = measure_value(material.density / 1000, "POSITIVE_RATIO_MEASURE")
    density.Init(kernel_text("density measure"), value, unit_entity("g/cm^3"))
    add_property(model, owner, context, (_PROPERTY, "density"), density, title="density")
