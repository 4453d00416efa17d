"""Named values embedded in a STEP file: properties of the product, written and read back.

The present kernel reads user attributes but cannot write them; the entities are built here, in
the structure that later kernels write. For each key: GENERAL_PROPERTY, PROPERTY_DEFINITION on
the product definition, their association, and a REPRESENTATION with one item. Text too long for
one string goes on under ``key#2``, ``key#3`` ...
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from OCP.StepBasic import (
    StepBasic_GeneralProperty,
    StepBasic_GeneralPropertyAssociation,
    StepBasic_ProductDefinition,
    StepBasic_Unit,
)
from OCP.StepData import StepData_StepModel
from OCP.StepRepr import (
    StepRepr_CharacterizedDefinition,
    StepRepr_DescriptiveRepresentationItem,
    StepRepr_HArray1OfRepresentationItem,
    StepRepr_MeasureRepresentationItem,
    StepRepr_PropertyDefinition,
    StepRepr_PropertyDefinitionRepresentation,
    StepRepr_Representation,
    StepRepr_RepresentationContext,
    StepRepr_RepresentationItem,
    StepRepr_RepresentedDefinition,
    StepRepr_ValueRepresentationItem,
)

from springgeo.files.step.text import kernel_text, slices, unescape
from springgeo.files.step.units import (
    UNITS,
    measure_name,
    measure_value,
    unit_entity,
    unit_symbol,
)

_KIND = "user defined attribute"
_COUNT = "COUNT_MEASURE"
_CONTINUED = re.compile(r"(.+)#(\d+)")


class Attribute(NamedTuple):
    """A value with its unit, one of ``step_units.UNITS``; text has none."""

    value: float | int | str
    unit: str = ""


def add_attributes(
    model: StepData_StepModel,
    owner: StepBasic_ProductDefinition,
    context: StepRepr_RepresentationContext,
    attributes: Mapping[str, Attribute],
) -> None:
    """Attach attributes to a product definition, in the order of the mapping.

    Raises
    ------
    ValueError
        A unit is unknown, text has a unit, a number is not finite, or a key ends in ``#number``.
    """
    target = _characterised(owner)
    units: dict[str, StepBasic_Unit] = {}
    for key, attribute in _cut(attributes):
        shared = StepBasic_GeneralProperty()
        shared.Init(kernel_text(""), kernel_text(key), True, kernel_text(""))
        item = _item(key, attribute, units)
        definition = add_property(model, target, context, (key, _KIND), item)
        link = StepBasic_GeneralPropertyAssociation()
        link.Init(kernel_text(""), kernel_text(""), shared, definition)
        model.AddWithRefs(link)


def add_property(
    model: StepData_StepModel,
    owner: StepBasic_ProductDefinition | StepRepr_CharacterizedDefinition,
    context: StepRepr_RepresentationContext,
    naming: tuple[str, str],
    item: StepRepr_RepresentationItem,
    title: str = "",
) -> StepRepr_PropertyDefinition:
    """Attach one item to a product definition under a property (name, description)."""
    target = owner
    if not isinstance(target, StepRepr_CharacterizedDefinition):
        target = _characterised(target)
    definition = StepRepr_PropertyDefinition()
    definition.Init(kernel_text(naming[0]), True, kernel_text(naming[1]), target)
    items = StepRepr_HArray1OfRepresentationItem(1, 1)
    items.SetValue(1, item)
    representation = StepRepr_Representation()
    representation.Init(kernel_text(title), items, context)
    defined = StepRepr_RepresentedDefinition()
    defined.SetValue(definition)
    pair = StepRepr_PropertyDefinitionRepresentation()
    pair.Init(defined, representation)
    model.AddWithRefs(pair)
    return definition


def _characterised(owner: StepBasic_ProductDefinition) -> StepRepr_CharacterizedDefinition:
    # the call takes the kernel's bindings a millisecond: once for all attributes of an owner
    target = StepRepr_CharacterizedDefinition()
    target.SetValue(owner)
    return target


def read_attributes(model: StepData_StepModel) -> dict[str, Attribute]:
    """Return every attribute of a model, in the order of the file."""
    found = {}
    for i in range(1, model.NbEntities() + 1):
        entity = model.Value(i)
        if isinstance(entity, StepRepr_PropertyDefinitionRepresentation):
            definition = entity.Definition().PropertyDefinition()
            if definition is None or not _is_attribute(definition):
                continue
            items = entity.UsedRepresentation()
            if items is not None and items.NbItems() == 1:
                found[unescape(definition.Name().ToCString())] = _value(items.ItemsValue(1))
    return _joined(found)


def _cut(attributes: Mapping[str, Attribute]) -> Iterator[tuple[str, Attribute]]:
    for key, attribute in attributes.items():
        if _CONTINUED.fullmatch(key):
            raise ValueError(f"attribute {key}: a key cannot end in # and a number")
        value, unit = attribute
        if not isinstance(value, str):
            yield key, attribute
            continue
        for i, part in enumerate(slices(value), 1):
            yield key if i == 1 else f"{key}#{i}", Attribute(part, unit)


def _joined(found: Mapping[str, Attribute]) -> dict[str, Attribute]:
    whole: dict[str, Attribute] = {}
    for key, attribute in found.items():
        more = _CONTINUED.fullmatch(key)
        if more and more[1] in whole:
            whole[more[1]] = Attribute(f"{whole[more[1]].value}{attribute.value}")
        else:
            whole[key] = attribute
    return whole


def _is_attribute(definition: StepRepr_PropertyDefinition) -> bool:
    return bool(definition.HasDescription() and definition.Description().ToCString() == _KIND)


def _item(
    key: str, attribute: Attribute, units: dict[str, StepBasic_Unit]
) -> StepRepr_RepresentationItem:
    # attributes of one unit share its entities
    value, unit = attribute
    if unit not in UNITS:
        raise ValueError(f"attribute {key}: unit {unit!r} is none of {', '.join(UNITS[1:])}")
    if isinstance(value, str):
        if unit:
            raise ValueError(f"attribute {key}: text has no unit, {unit!r} was given")
        described = StepRepr_DescriptiveRepresentationItem()
        described.Init(kernel_text(key), kernel_text(value))
        return described
    if not math.isfinite(value):
        raise ValueError(f"attribute {key}: {value} is not a finite number")
    if unit:
        measured = StepRepr_MeasureRepresentationItem()
        if unit not in units:
            units[unit] = unit_entity(unit)
        measured.Init(kernel_text(key), measure_value(value, measure_name(unit)), units[unit])
        return measured
    plain = StepRepr_ValueRepresentationItem()
    name = _COUNT if isinstance(value, int) else "NUMERIC_MEASURE"
    plain.Init(kernel_text(key), measure_value(value, name))
    return plain


def _value(item: StepRepr_RepresentationItem) -> Attribute:
    if isinstance(item, StepRepr_DescriptiveRepresentationItem):
        return Attribute(unescape(item.Description().ToCString()))
    if isinstance(item, StepRepr_ValueRepresentationItem):
        member = item.ValueComponentMember()
        number = member.Real()
        return Attribute(round(number) if member.Name() == _COUNT else number)
    measure = item.Measure()
    return Attribute(measure.ValueComponent(), unit_symbol(measure.UnitComponent()))
