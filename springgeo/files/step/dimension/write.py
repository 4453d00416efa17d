"""Semantic dimensions with tolerances in a STEP file (AP242), attached to faces or mate frames.

A feature is a SHAPE_ASPECT, tied to its face by a GEOMETRIC_ITEM_SPECIFIC_USAGE; several faces
are a COMPOSITE_GROUP_SHAPE_ASPECT of one each. A dimension is a DIMENSIONAL_SIZE of a feature, or
a DIMENSIONAL_LOCATION or ANGULAR_LOCATION from one to another; a
DIMENSIONAL_CHARACTERISTIC_REPRESENTATION gives it its value, a PLUS_MINUS_TOLERANCE its limits.
Structure: ISO 10303-242 as later kernels and other systems write it, from memory.
"""

from __future__ import annotations

from collections.abc import Iterable

from springgeo.files.step.anchors import Anchors
from springgeo.files.step.dimension.model import Dimension, Feature
from springgeo.files.step.frames import Placements
from springgeo.files.step.part21 import Entities, real, string
from springgeo.files.step.unit_text import add_unit


def add_dimensions(
    entities: Entities, at: Anchors, placements: Placements, dimensions: Iterable[Dimension]
) -> None:
    """Add dimensions of the first part, in their order.

    Raises
    ------
    ValueError
        A feature is neither a face of the first part nor one of the placements.
    """
    writer = _Writer(entities, at, placements)
    for dimension in dimensions:
        writer.add(dimension)


class _Writer:
    def __init__(self, entities: Entities, at: Anchors, placements: Placements) -> None:
        self._entities, self._at, self._placements = entities, at, placements
        self._known: dict[Feature, str] = {}
        self._units: dict[str, str] = {}

    def add(self, dimension: Dimension) -> None:
        add, label = self._entities.add, string(dimension.label)
        if dimension.kind == "diameter":
            # a size has no words of its own: its feature has them
            aspect = self._feature(dimension.features[0], dimension.label)
            shown = add(f"DIMENSIONAL_SIZE({aspect},'diameter')")
        else:
            a, b = (self._aspect(feature) for feature in dimension.features)
            shown = (
                add(f"ANGULAR_LOCATION('angle',{label},{a},{b},.EQUAL.)")
                if dimension.kind == "angle"
                else add(f"DIMENSIONAL_LOCATION('linear distance',{label},{a},{b})")
            )
        value = add(self._measure(dimension.value, dimension.kind, "nominal value"))
        context = self._at.parts[0].context
        title = string(dimension.source)
        held = add(f"SHAPE_DIMENSION_REPRESENTATION({title},({value}),{context})")
        add(f"DIMENSIONAL_CHARACTERISTIC_REPRESENTATION({shown},{held})")
        if dimension.tolerance is not None:
            low, high = (
                add(self._measure(sign * dimension.tolerance, dimension.kind, f"{word} limit"))
                for sign, word in ((-1, "lower"), (1, "upper"))
            )
            limits = add(f"TOLERANCE_VALUE({low},{high})")
            add(f"PLUS_MINUS_TOLERANCE({limits},{shown})")

    def _measure(self, value: float, kind: str, name: str) -> str:
        """Return an item that is a measure with its unit; its parts in alphabetical order."""
        symbol, measure = ("deg", "PLANE_ANGLE") if kind == "angle" else ("mm", "LENGTH")
        if symbol not in self._units:
            self._units[symbol] = add_unit(self._entities, symbol)
        parts = [
            f"{measure}_MEASURE_WITH_UNIT()",
            "MEASURE_REPRESENTATION_ITEM()",
            f"MEASURE_WITH_UNIT({measure}_MEASURE({real(value)}),{self._units[symbol]})",
            f"REPRESENTATION_ITEM('{name}')",
        ]
        return f"( {' '.join(sorted(parts))} )"

    def _aspect(self, feature: Feature) -> str:
        """Return a feature that several dimensions may share."""
        if feature not in self._known:
            self._known[feature] = self._feature(feature, "")
        return self._known[feature]

    def _feature(self, feature: Feature, label: str) -> str:
        if isinstance(feature, str):
            return self._frame(feature)
        faces = self._at.parts[0].faces
        if not feature or not all(0 <= i < len(faces) for i in feature):
            raise ValueError(f"faces {feature} of a dimension are not among {len(faces)}")
        if len(feature) == 1:
            return self._face(faces[feature[0]], label)
        add = self._entities.add
        words = f"{string(label)},'',{self._at.parts[0].shape},.T."
        whole = add(f"COMPOSITE_GROUP_SHAPE_ASPECT({words})")
        for i in feature:
            add(f"SHAPE_ASPECT_RELATIONSHIP('','',{whole},{self._aspect((i,))})")
        return whole

    def _face(self, face: str, label: str) -> str:
        part, add = self._at.parts[0], self._entities.add
        aspect = add(f"SHAPE_ASPECT({string(label)},'',{part.shape},.T.)")
        use = f"'','',{aspect},{part.representation},{face}"
        add(f"GEOMETRIC_ITEM_SPECIFIC_USAGE({use})")
        return aspect

    def _frame(self, name: str) -> str:
        if name not in self._placements.items:
            raise ValueError(f"a dimension names the frame {name}, which is not in the file")
        add = self._entities.add
        aspect = add(f"SHAPE_ASPECT({string(name)},'',{self._at.shape},.F.)")
        use = f"{self._placements.representation},{self._placements.items[name]}"
        add(f"ITEM_IDENTIFIED_REPRESENTATION_USAGE('','',{aspect},{use})")
        return aspect
