"""What can be changed: every field of a specification, with its kind, choices and limits."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import TypedDict, cast

from springgeo import materials
from springgeo.ends import registry
from springgeo.spring.json_schema import specification_schema
from springgeo.text.naming import subject
from springgeo.text.shown import Shown
from springgeo.trade.limits import limits
from springgeo.units import FACTORS

# which limits hold for a field, where they have another name or a factor of the wire diameter
_LIMITS = {
    "wire.diameter": "wire_diameter",
    "wire.tensile_strength": "tensile_strength",
    "wire.shear_modulus": "modulus",
    "wire.elastic_modulus": "modulus",
    "body.index": "index",
    "body.coils": "coils",
    "body.initial_tension": "initial_tension",
    "body.initial_stress": "initial_stress",
    "body.coil_clearance": "coil_clearance",
    "service.loads": "loads",
    "service.lengths": "lengths",
    "service.overload": "loads",
    "service.temperature": "temperature",
    "service.cycles": "cycles",
    "service.forcing_frequency": "forcing_frequency",
}
_KIND = re.compile(r"(\w+); a bare number")
# kinds whose values vary continuously, so that a slider makes sense
SLIDING = {"length", "force", "stress", "number", "angle", "temperature"}
# a choice among forms is no slider: these count, or go over many powers of ten
_STEPPED = {
    *("service.cycles", "service.forcing_frequency", "body.coil_clearance"),
    *("tolerances.grade", "tolerances.share"),
}


# what JSON Schema says of a field, as far as it is read here
Schema = TypedDict(
    "Schema",
    {
        "$ref": str,
        "$defs": dict[str, "Schema"],
        "properties": dict[str, "Schema"],
        "anyOf": list["Schema"],
        "allOf": list["Schema"],
        "items": "Schema",
        "type": str,
        "enum": list[object],
        "const": object,
        "description": str,
    },
    total=False,
)


class Field(TypedDict, total=False):
    """A field of the page; see `fields`."""

    key: str
    words: str
    kind: str
    of: str
    choices: Sequence[object]
    known: list[str]
    units: Mapping[str, float]
    low: float
    high: float
    slides: bool


def fields(shown: Shown) -> list[Field]:
    """Return the fields of a specification in the order of its models.

    Each is ``key``, ``words``, ``kind`` (of quantity, else ``text``, ``choice``, ``flag``,
    ``list`` or ``yaml``), and where they apply ``of`` (the kind of a list's items), ``choices``,
    ``low`` and ``high`` in inside units, ``slides``. The parameters of end styles are not among
    them: see `end_fields`.
    """
    schema = cast("Schema", specification_schema())
    found = [_complete(f, shown) for f in _walk(schema, schema, "")]
    for f in found:
        if f["key"] == "wire.material":
            f["kind"], f["known"] = "text", sorted(materials.names())
    return found


def end_fields(shown: Shown) -> dict[str, list[Field]]:
    """Return the parameters of every end style by its name; their keys are the last part alone."""
    found = {}
    for style in registry.styles().values():
        if not style.offered:  # drawn after one part: nothing to be typed
            continue
        schema = cast("Schema", style.parameters.model_json_schema())
        found[style.name] = [_complete(f, shown) for f in _walk(schema, schema, "")]
    return found


def _walk(schema: Schema, node: Schema, above: str) -> Iterator[Field]:
    for name, inner in node.get("properties", {}).items():
        key = f"{above}{name}"
        if key in ("ends.first", "ends.second"):
            choices = sorted(s.name for s in registry.styles().values() if s.offered)
            yield {"key": f"{key}.style", "kind": "choice", "choices": choices}
            continue
        model = _model(schema, inner)
        if model is not None:
            yield from _walk(schema, model, f"{key}.")
        else:
            yield {"key": key, **_leaf(inner)}


def _model(schema: Schema, node: Schema) -> Schema | None:
    """Return the model a field holds, if it holds one."""
    for option in (node, *node.get("anyOf", ()), *node.get("allOf", ())):
        if "$ref" in option:
            found: Schema = schema["$defs"][option["$ref"].rpartition("/")[2]]
            if "properties" in found:
                return found
    return None


def _leaf(node: Schema) -> Field:
    kinds_of = {o.get("type") for o in _options(node)}
    if {"number", "array"} <= kinds_of:  # one value or both deviations: as in the file
        return {"kind": "yaml"}
    for option in _options(node):
        if (kind := _kind(option)) is not None:
            return {"kind": kind}
        if option.get("type") in ("number", "integer"):
            return {"kind": "number"}
        if ("enum" in option or "const" in option) and "array" not in kinds_of:
            return {"kind": "choice", "choices": option.get("enum", [option.get("const")])}
        if option.get("type") == "boolean":
            return {"kind": "flag"}
        if option.get("type") == "array":
            kinds = [_kind(o) for o in _options(option.get("items", {}))]
            if any(kinds):
                return {"kind": "list", "of": next(k for k in kinds if k)}
            return {"kind": "yaml"}
    return {"kind": "text" if "string" in kinds_of else "yaml"}


def _options(node: Schema) -> Iterator[Schema]:
    """Yield a field's alternatives, those that name a kind of quantity first."""
    every = [node, *node.get("anyOf", ())]
    yield from sorted(every, key=lambda o: _kind(o) is None)


def _kind(option: Schema) -> str | None:
    met = _KIND.match(option.get("description", ""))
    return met[1] if met else None


def _complete(f: Field, shown: Shown) -> Field:
    key, kind = f["key"], f.get("of", f["kind"])
    f["words"] = shown.text(subject(key))
    if kind in FACTORS:
        f["units"] = FACTORS[kind]
    if key in _LIMITS:
        f["low"], f["high"] = limits()[_LIMITS[key]]
    f["slides"] = f["kind"] in SLIDING and key not in _STEPPED
    return f
