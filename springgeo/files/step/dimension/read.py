"""Semantic dimensions of a STEP file, read from its text: whoever wrote it, without the kernel.

Grammar of the exchange structure: ISO 10303-21; entities: ISO 10303-242, both from memory.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from springgeo.files.step.dimension.model import StatedDimension
from springgeo.files.step.text import unescape

_STATEMENT = re.compile(r"((?:[^';]++|'[^']*+')*+);")
_HEAD = re.compile(r"\s*#(\d+)\s*=\s*\(?\s*([A-Z0-9_]+)")
_TOKEN = re.compile(r"'((?:[^']|'')*)'|(#\d+)")
_MEASURE = re.compile(
    r"(LENGTH|POSITIVE_LENGTH|PLANE_ANGLE|POSITIVE_PLANE_ANGLE)_MEASURE\s*\(\s*"
    r"([-+]?\d+\.\d*(?:E[-+]?\d+)?)\s*\)\s*,\s*#(\d+)"
)
_SIZE, _PLACES = "DIMENSIONAL_SIZE", ("DIMENSIONAL_LOCATION", "ANGULAR_LOCATION")
_USES = "GEOMETRIC_ITEM_SPECIFIC_USAGE", "ITEM_IDENTIFIED_REPRESENTATION_USAGE"
_KINDS = {
    _SIZE,
    *_PLACES,
    *_USES,
    "DIMENSIONAL_CHARACTERISTIC_REPRESENTATION",
    "SHAPE_DIMENSION_REPRESENTATION",
    "PLUS_MINUS_TOLERANCE",
    "TOLERANCE_VALUE",
    "SHAPE_ASPECT_RELATIONSHIP",
    "SHAPE_ASPECT",
    "COMPOSITE_GROUP_SHAPE_ASPECT",
    "COMPOSITE_SHAPE_ASPECT",
}
# mm or deg in one unit, by what the unit's entity says
_UNITS = (
    (".MILLI.,.METRE.", "mm", 1.0),
    (".CENTI.,.METRE.", "mm", 10.0),
    ("$,.METRE.", "mm", 1000.0),
    ("'INCH'", "mm", 25.4),
    ("'DEGREE'", "deg", 1.0),
    ("$,.RADIAN.", "deg", 180 / math.pi),
)


@dataclass(frozen=True)
class _Entity:
    kind: str
    words: tuple[str, ...]
    refs: tuple[int, ...]


def read_dimensions(text: str) -> tuple[StatedDimension, ...]:
    """Return the dimensions with a value in a file's text, in the order of the file.

    What a dimension refers to and is not there is left out; units other than mm, cm, m, inch,
    degree and radian too.
    """
    return tuple(_File(text).dimensions())


class _File:
    def __init__(self, text: str) -> None:
        self._text = text
        self._spans: dict[int, tuple[int, int]] = {}
        self._found: dict[int, _Entity] = {}
        at = 0
        while statement := _STATEMENT.match(text, at):
            start, at = at, statement.end()
            head = _HEAD.match(text, start, at)
            if head is None:
                continue
            self._spans[int(head[1])] = start, at
            if head[2] in _KINDS:
                self._found[int(head[1])] = _entity(head[2], text[head.end() : at])

    def dimensions(self) -> Iterator[StatedDimension]:
        values = self._pairs("DIMENSIONAL_CHARACTERISTIC_REPRESENTATION", key=0)
        limits = self._pairs("PLUS_MINUS_TOLERANCE", key=1)
        self._groups = self._many("SHAPE_ASPECT_RELATIONSHIP")
        self._items = self._many(*_USES)
        for number, entity in self._found.items():
            held = self._found.get(values.get(number, 0))
            if entity.kind not in (_SIZE, *_PLACES) or held is None or not held.refs:
                continue
            value = self._measure(held.refs[0])
            if value is None:
                continue
            yield StatedDimension(
                self._label(entity),
                *value,
                *self._limits(limits.get(number, 0), value[1]),
                held.words[0] if held.words else "",
                tuple(self._count(r) for r in entity.refs),
            )

    def _label(self, entity: _Entity) -> str:
        """Return a location's description, or for a size the name of its feature."""
        if entity.kind == _SIZE:
            aspect = self._found.get(entity.refs[0] if entity.refs else 0)
            return (aspect.words[0] if aspect and aspect.words else "") or entity.words[0]
        return next((w for w in reversed(entity.words) if w), "")

    def _limits(self, number: int, unit: str) -> tuple[float | None, float | None]:
        entity = self._found.get(number)
        if entity is None or len(entity.refs) < 2:
            return None, None
        low, high = (self._measure(r) for r in entity.refs[:2])
        if low is None or high is None or {low[1], high[1]} != {unit}:
            return None, None
        return low[0], high[0]

    def _measure(self, number: int) -> tuple[float, str] | None:
        found = _MEASURE.search(self._statement(number))
        if found is None:
            return None
        says = self._statement(int(found[3]))
        for words, unit, factor in _UNITS:
            if words in says:
                value = factor * float(found[2])
                return (value, unit) if math.isfinite(value) else None
        return None

    def _statement(self, number: int) -> str:
        start, end = self._spans.get(number, (0, 0))
        return re.sub(r"\s", "", self._text[start:end])

    def _count(self, aspect: int) -> int:
        """Return how many faces or frames a feature has, its members' included."""
        members = self._groups.get(aspect, [])
        return len(self._items.get(aspect, [])) + sum(len(self._items.get(m, [])) for m in members)

    def _pairs(self, kind: str, key: int) -> dict[int, int]:
        entities = (e for e in self._found.values() if e.kind == kind and len(e.refs) == 2)
        return {e.refs[key]: e.refs[1 - key] for e in entities}

    def _many(self, *kinds: str) -> dict[int, list[int]]:
        """Return, for entities that tie two others, the second ones by the first."""
        found: dict[int, list[int]] = {}
        for e in self._found.values():
            if e.kind in kinds and len(e.refs) > 1:
                found.setdefault(e.refs[0], []).append(e.refs[1])
        return found


def _entity(kind: str, parameters: str) -> _Entity:
    tokens = _TOKEN.findall(parameters.replace("\r", "").replace("\n", ""))
    words = tuple(unescape(word.replace("''", "'")) for word, ref in tokens if not ref)
    return _Entity(kind, words, tuple(int(ref[1:]) for _, ref in tokens if ref))
