"""Named values embedded in a STEP file: properties of the product, written and read back.

The present kernel reads user attributes but cannot write them; the entities are written here, in
the structure that later kernels write. For each key: GENERAL_PROPERTY, PROPERTY_DEFINITION on
the product definition, their association, and a REPRESENTATION with one item. Text too long for
one string goes on under ``key#2``, ``key#3`` ...
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from OCP.StepRepr import (
    StepRepr_DescriptiveRepresentationItem,
    StepRepr_PropertyDefinition,
    StepRepr_PropertyDefinitionRepresentation,
    StepRepr_RepresentationItem,
    StepRepr_ValueRepresentationItem,
)

from springgeo.files.step.anchors import Anchors
from springgeo.files.step.part21 import Entities, real, string
from springgeo.files.step.text import slices, unescape
from springgeo.files.step.unit_text import add_unit
from springgeo.files.step.units import UNITS, measure_name, unit_symbol

_KIND = "user defined attribute"
_COUNT = "COUNT_MEASURE"
_CONTINUED = re.compile(r"(.+)#(\d+)")


class Attribute(NamedTuple):
    """A value with its unit, one of ``units.UNITS``; text has none."""

    value: float | int | str
    unit: str = ""


def add_attributes(entities: Entities, at: Anchors, attributes: Mapping[str, Attribute]) -> None:
    """Attach attributes to the product, in the order of the mapping.

    Raises
    ------
    ValueError
        A unit is unknown, text has a unit, a number is not finite, or a key ends in ``#number``.
    """
    units: dict[str, str] = {}
    for key, attribute in _cut(attributes):
        item = entities.add(_item(entities, key, attribute, units))
        definition = add_property(entities, at, (key, _KIND), item)
        shared = entities.add(f"GENERAL_PROPERTY('',{string(key)},'')")
        entities.add(f"GENERAL_PROPERTY_ASSOCIATION('','',{shared},{definition})")


def add_property(
    entities: Entities, at: Anchors, naming: tuple[str, str], item: str, title: str = ""
) -> str:
    """Attach one item to the product under a property (name, description)."""
    words = ",".join(map(string, naming))
    definition = entities.add(f"PROPERTY_DEFINITION({words},{at.definition})")
    shown = entities.add(f"REPRESENTATION({string(title)},({item}),{at.context})")
    entities.add(f"PROPERTY_DEFINITION_REPRESENTATION({definition},{shown})")
    return definition


def read_attributes(entities: Iterable[object]) -> dict[str, Attribute]:
    """Return every attribute among a model's entities, in the order of the file."""
    found = {}
    for entity in entities:
        if isinstance(entity, StepRepr_PropertyDefinitionRepresentation):
            definition = entity.Definition().PropertyDefinition()
            if definition is None or not _is_attribute(definition):
                continue
            items = entity.UsedRepresentation()
            if items is not None and items.NbItems() == 1:
                found[unescape(definition.Name().ToCString())] = _value(items.ItemsValue(1))
    return joined(found)


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


def joined(found: Mapping[str, Attribute]) -> dict[str, Attribute]:
    """Return attributes with those that were cut in pieces whole again."""
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


def _item(entities: Entities, key: str, attribute: Attribute, units: dict[str, str]) -> str:
    # attributes of one unit share its entities
    value, unit = attribute
    if unit not in UNITS:
        raise ValueError(f"attribute {key}: unit {unit!r} is none of {', '.join(UNITS[1:])}")
    if isinstance(value, str):
        if unit:
            raise ValueError(f"attribute {key}: text has no unit, {unit!r} was given")
        return f"DESCRIPTIVE_REPRESENTATION_ITEM({string(key)},{string(value)})"
    if not math.isfinite(value):
        raise ValueError(f"attribute {key}: {value} is not a finite number")
    if not unit:
        name = _COUNT if isinstance(value, int) else "NUMERIC_MEASURE"
        return f"VALUE_REPRESENTATION_ITEM({string(key)},{name}({real(value)}))"
    if unit not in units:
        units[unit] = add_unit(entities, unit)
    number = f"{measure_name(unit)}({real(value)})"
    return f"MEASURE_REPRESENTATION_ITEM({string(key)},{number},{units[unit]})"


def _value(item: StepRepr_RepresentationItem) -> Attribute:
    if isinstance(item, StepRepr_DescriptiveRepresentationItem):
        return Attribute(unescape(item.Description().ToCString()))
    if isinstance(item, StepRepr_ValueRepresentationItem):
        member = item.ValueComponentMember()
        number = member.Real()
        return Attribute(round(number) if member.Name() == _COUNT else number)
    measure = item.Measure()
    return Attribute(measure.ValueComponent(), unit_symbol(measure.UnitComponent()))
