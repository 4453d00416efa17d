"""The reference of a specification: each field with its unit, limits, default and picture.

Units, choices and defaults are the schema's, limits the trade's; the words are ``fields.yaml``.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from springgeo.spring.json_schema import specification_schema
from springgeo.trade.limits import limits

# the picture of a section, and what it shows
PICTURES = {
    "wire": ("spec-body.svg", "the letter d is the wire's diameter"),
    "body": ("spec-body.svg", "an open body, so that pitch p and gap g are seen"),
    "ends": ("spec-ends.svg", "seen along the axis, from the first end"),
    "service": ("load-length.svg", "working points, initial tension Fi and tolerance of the loads"),
    "mating": ("spec-mating.svg", "over the stroke, what `mating` leaves clear"),
    "tolerances": ("spec-body.svg", "the dimensions that stray; LH and r2 are in End styles"),
}
SHEET = "../walk/sheet.png"
# limits that are not in the field's own unit
_SCALED = dict.fromkeys(("mean_diameter", "outer_diameter", "inner_diameter"), "index {}")
_SCALED |= {"pitch": "{} wire diameters"}
_KINDS = {"degC": "°C", "no unit": "–", "deg": "°"}


def fields() -> dict[str, dict[str, list[str]]]:
    """Return words, limit and mark of every field by the path of its section."""
    text = (Path(__file__).parent / "fields.yaml").read_text(encoding="utf-8")
    found: dict[str, dict[str, list[str]]] = yaml.safe_load(text)
    return found


def sections() -> dict[str, dict[str, Any]]:
    """Return the schema of every section by its path, both ends' parts once."""
    schema = specification_schema()
    found: dict[str, dict[str, Any]] = {}

    def look(path: str, part: dict[str, Any]) -> None:
        found[path] = part
        for name, about in part["properties"].items():
            inner = _object(about, schema)
            if inner.get("properties") and not (path == "mating" and name == "second"):
                look(f"{path}.{name}".lstrip("."), inner)

    look("", schema)
    return found


def _object(about: dict[str, Any], schema: dict[str, Any]) -> dict[str, Any]:
    for choice in (about, *about.get("anyOf", ()), about.get("items", {})):
        if "$ref" in choice:
            found: dict[str, Any] = schema["$defs"][choice["$ref"].rpartition("/")[2]]
            return found
    return about


def rows(path: str, properties: dict[str, dict[str, Any]]) -> Iterator[tuple[str, ...]]:
    """Yield key, words, unit or choices, limits, default and mark of a section's fields."""
    schema = specification_schema()
    words = fields()[path]
    for name, about in properties.items():
        text, limit, mark = [*words[name], "", ""][:3]
        least = limits().get(limit)
        if least is not None:
            limit = _SCALED.get(name, "{}").format(f"{least[0]:g} to {least[1]:g}")
        yield f"`{name}`", text, unit(about, schema), limit or "–", _default(about), mark or "–"


def unit(about: dict[str, Any], schema: dict[str, Any]) -> str:
    """Return the unit of a bare number, or the choices, or the kind."""
    if found := next(_described(about), ""):
        kind, _, rest = found.partition("; a bare number is in ")
        sign = rest.partition(";")[0]
        return f"{kind}, {_KINDS.get(sign, sign)}".removesuffix(", –")
    for choice in (about, *about.get("anyOf", ()), about.get("items", {})):
        if "enum" in choice:
            return ", ".join(f"`{x}`" for x in choice["enum"])
    if _object(about, schema).get("properties"):
        return "list of sections" if "items" in about else "section"
    kinds = [c.get("type", "") for c in (about, *about.get("anyOf", ()))]
    named = {"string": "text", "boolean": "yes or no", "array": "list", "object": "section"}
    return next((named.get(k, k) for k in kinds if k and k != "null"), "section")


def _described(about: dict[str, Any]) -> Iterator[str]:
    if "a bare number" in about.get("description", ""):
        yield about["description"]
    for key in ("anyOf", "prefixItems"):
        for choice in about.get(key, ()):
            yield from _described(choice)
    if "items" in about:
        yield from _described(about["items"])


def _default(about: dict[str, Any]) -> str:
    if "default" not in about:
        return "must be given"
    value = about["default"]
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"`{value}`" if isinstance(value, str | int | float) else "–"


def picture(section: str) -> str:
    """Return a section's picture with its caption, in Markdown; nothing if it has none."""
    top = section.partition(".")[0]
    if section != top:
        return ""
    if top in ("making", "drawing"):
        return f"![The sheet]({SHEET})\n\n*What they say is on the sheet.*"
    if top not in PICTURES:
        return ""
    file, words = PICTURES[top]
    return f"![{top}](../figures/{file})\n\n*{words[0].upper()}{words[1:]}.*"
