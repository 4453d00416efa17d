"""The JSON Schema of a specification: the models plus every registered end style."""

from __future__ import annotations

from typing import Any

from springgeo.ends import registry
from springgeo.specification import Spec
from springgeo.text.json_value import Json


def specification_schema() -> dict[str, Json]:
    """Return JSON Schema (draft 2020-12) with one alternative per end style."""
    schema = Spec.model_json_schema()
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = "springgeo specification"
    schema["$defs"]["EndChoice"] = {
        "description": "An end style and its parameters.",
        "oneOf": [
            {
                "title": "a style with its own proportions",
                "enum": sorted(s.name for s in registry.styles().values()),
            },
        ]
        + [
            _style(s.name, s.title, s.parameters.model_json_schema())
            for s in registry.styles().values()
        ],
    }
    return schema


def _style(name: str, title: str, parameters: dict[str, Any]) -> dict[str, Any]:
    properties = {"style": {"const": name}, **parameters.get("properties", {})}
    return {
        "type": "object",
        "title": title,
        "description": parameters.get("description", ""),
        "properties": properties,
        "required": ["style"],
        "additionalProperties": False,
    }
