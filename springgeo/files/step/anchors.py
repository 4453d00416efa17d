"""What the kernel has written, by the numbers it has in the file: what else refers to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from OCP.StepData import StepData_StepModel
from OCP.StepShape import (
    StepShape_AdvancedBrepShapeRepresentation,
    StepShape_ManifoldSolidBrep,
    StepShape_ShapeDefinitionRepresentation,
)


@dataclass(frozen=True)
class PartAnchor:
    """References to a part: its representation with context, its shape, its solid's faces."""

    representation: str
    context: str
    shape: str
    solid: str
    faces: tuple[str, ...]


@dataclass(frozen=True)
class Anchors:
    """References to the product, an assembly above its parts, and to each part in order."""

    definition: str
    shape: str
    representation: str
    context: str
    parts: tuple[PartAnchor, ...]
    next: int


def anchors(entities: Sequence[object], count: int) -> Anchors:
    """Return the references of a model's entities, of ``count`` parts, that are to be written.

    Raises
    ------
    ValueError
        A part is not one solid, or two are the same.
    """
    # the model itself does not know the numbers of its entities; equal ones are one object here
    numbers = {id(entity): i for i, entity in enumerate(entities, 1)}

    def ref(entity: Any) -> str:
        return f"#{numbers[id(entity)]}"

    # the transferred product, an assembly above its parts, comes first in the model
    pairs = (e for e in entities if isinstance(e, StepShape_ShapeDefinitionRepresentation))
    found: list[PartAnchor] = []
    pair = first = next(pairs)
    while pair is not None and len(found) < count:
        shape = pair.UsedRepresentation()
        if isinstance(shape, StepShape_AdvancedBrepShapeRepresentation):
            found.append(_part(shape, ref, ref(pair.Definition().PropertyDefinition())))
        pair = next(pairs, None)
    if len(found) != count:
        raise ValueError("every part of a STEP file must be one solid, and a different one")
    whole = first.UsedRepresentation()
    definition = first.Definition().PropertyDefinition()
    return Anchors(
        ref(definition.Definition().ProductDefinition()),
        ref(definition),
        ref(whole),
        ref(whole.ContextOfItems()),
        tuple(found),
        len(entities) + 1,
    )


def _part(shape: StepShape_AdvancedBrepShapeRepresentation, ref: Any, of: str) -> PartAnchor:
    items = [shape.ItemsValue(i + 1) for i in range(shape.NbItems())]
    solids = [item for item in items if isinstance(item, StepShape_ManifoldSolidBrep)]
    if len(solids) != 1:
        raise ValueError("every part of a STEP file must be one solid, and a different one")
    shell = solids[0].Outer()
    faces = tuple(ref(shell.CfsFacesValue(i + 1)) for i in range(shell.NbCfsFaces()))
    return PartAnchor(ref(shape), ref(shape.ContextOfItems()), of, ref(solids[0]), faces)


def entities_of(model: StepData_StepModel) -> list[Any]:
    """Return the entities of a model in the order of the file.

    Each takes the bindings microseconds, and a spring has thousands: they are fetched once.
    """
    return [model.Value(i) for i in range(1, model.NbEntities() + 1)]
