"""One value of a YAML text changed, everything else left as it was written.

A value in its place is replaced in the text itself. Where keys come or go, ruamel.yaml writes the
text anew, with comments and order kept.
"""

from __future__ import annotations

import io
import json
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

import yaml

from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.optional import need
from springgeo.specification.change import FORMS
from springgeo.specification.end_names import LETTERS, spelled_key
from springgeo.text.yaml_text import read_yaml


def edited(text: str, key: str, value: str | None) -> str:
    """Return a specification's text with another value.

    Parameters
    ----------
    text : str
        YAML, as `springgeo.text.yaml_text.read_yaml` takes it.
    key : str
        With dots, such as ``ends.first.bend_radius``.
    value : str or None
        As a person types it, its unit included; a list with or without brackets. None takes the
        key away. Another form of one thing (``body.index`` for ``body.mean_diameter``) takes the
        old one's place; another style leaves the parameters of the old one behind.

    Raises
    ------
    SpecError
        The text is no YAML, the value cannot stand in it, or the key lies below a plain value.
    """
    key = _as_written(parsed(text), key)
    if spelled_key(key) in ("ends.first.style", "ends.second.style") and value is not None:
        return _put(text, key.removesuffix(".style"), {"style": value})
    node = _node(text, key)
    if value is not None and _in_place(node):
        assert node is not None
        return _replaced(text, node, value)
    others = [] if value is None else _other_forms(key)
    return _written(text, key, None if value is None else _plain(value), others)


@lru_cache(maxsize=8)
def parsed(text: str) -> dict[str, Any]:
    """Return what a text holds, to be read and not changed.

    The same few texts are asked for again and again while a value is moved. Raises SpecError.
    """
    return read_yaml(text, "specification")


def values(text: str) -> dict[str, str]:
    """Return every value of a text as it was typed, by its key with dots; raises SpecError."""
    return dict(_values(text))


@lru_cache(maxsize=8)
def _values(text: str) -> dict[str, str]:
    parsed(text)
    found: dict[str, str] = {}
    _collect(text, _composed(text), "", found)
    return {spelled_key(key): value for key, value in found.items()}


@lru_cache(maxsize=4)
def _composed(text: str) -> yaml.Node | None:
    found: yaml.Node | None = yaml.compose(text, Loader=yaml.SafeLoader)
    return found


def _collect(text: str, node: yaml.Node | None, above: str, found: dict[str, str]) -> None:
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            _collect(text, value, f"{above}.{key.value}" if above else key.value, found)
    elif isinstance(node, yaml.ScalarNode):
        found[above] = node.value
    elif isinstance(node, yaml.SequenceNode):
        found[above] = ", ".join(_typed(text, item) for item in node.value)


def _typed(text: str, node: yaml.Node) -> str:
    if isinstance(node, yaml.ScalarNode):
        return str(node.value)
    return " ".join(text[node.start_mark.index : node.end_mark.index].split())


def _node(text: str, key: str) -> yaml.Node | None:
    node = _composed(text)
    for part in key.split("."):
        if not isinstance(node, yaml.MappingNode):
            return None
        node = next((v for k, v in node.value if k.value == part), None)
    return node


def _in_place(node: yaml.Node | None) -> bool:
    """Return whether a value's place in the text is exact: not for blocks of lines."""
    if isinstance(node, yaml.ScalarNode):
        # an empty value has no place, a block of text has its own indent
        return node.style not in ("|", ">") and node.start_mark.index < node.end_mark.index
    return isinstance(node, yaml.SequenceNode) and bool(node.flow_style)


def _replaced(text: str, node: yaml.Node, value: str) -> str:
    new = f"[{_items(value)}]" if isinstance(node, yaml.SequenceNode) else _scalar(value)
    changed = text[: node.start_mark.index] + new + text[node.end_mark.index :]
    parsed(changed)
    return changed


def _items(value: str) -> str:
    return value.strip().removeprefix("[").removesuffix("]").strip()


def _scalar(value: str) -> str:
    """Return a value as it can stand anywhere in YAML: plain, or in quotation marks."""
    plain = " ".join(value.split())
    try:
        if plain and yaml.safe_load(f"{{v: {plain}}}") == {"v": yaml.safe_load(plain)}:
            kept: Any = yaml.compose(f"{{v: {plain}}}", Loader=yaml.SafeLoader)
            kept = kept.value
            if len(kept) == 1 and kept[0][1].value == plain and "#" not in plain:
                return plain
    except (yaml.YAMLError, ValueError):
        pass
    return json.dumps(plain, ensure_ascii=False)


def _plain(value: str) -> Any:
    """Return a typed value as ruamel.yaml is to write it: lists and mappings in one line."""
    text = value.strip()
    if text[:1] not in ("[", "{"):
        text = _scalar(value)
    return _round_trip().load(text)


def _other_forms(key: str) -> list[str]:
    """Return the keys of other forms of one thing, spelled as the key's own end is."""
    own = spelled_key(key)
    found = [
        other
        for forms in FORMS
        for form in forms
        if f"{own}.".startswith(f"{form}.")
        for other in forms - {form}
    ]
    end, spelled = (".".join(k.split(".")[:2]) for k in (key, own))
    return [end + k.removeprefix(spelled) if k.startswith(spelled) else k for k in found]


def _as_written(data: Mapping[str, Any], key: str) -> str:
    """Return a key with its end called as the file calls it: ``ends.a`` or ``ends.first``."""
    parts = spelled_key(key).split(".")
    section = data.get(parts[0])
    for letter, name in LETTERS.items():
        if (
            len(parts) > 1
            and parts[1] == name
            and isinstance(section, Mapping)
            and letter in section
        ):
            parts[1] = letter
    return ".".join(parts)


def _round_trip() -> Any:
    made = need("ruamel.yaml", "the desk", "live").YAML()
    made.preserve_quotes = True
    made.width = 10**6
    made.indent(mapping=2, sequence=4, offset=2)
    return made


def _put(text: str, key: str, value: Mapping[str, str]) -> str:
    flow = "{" + ", ".join(f"{k}: {_scalar(v)}" for k, v in value.items()) + "}"
    return _written(text, key, _round_trip().load(flow), [])


def _written(text: str, key: str, value: Any, gone: Sequence[str]) -> str:
    from_text = _round_trip()
    data = from_text.load(text)
    for other in gone:
        _take(data, other)
    if value is None:
        _take(data, key)
    else:
        _set(data, key, value)
    out = io.StringIO()
    from_text.dump(data, out)
    changed = out.getvalue()
    parsed(changed)
    return changed


def _set(data: Any, key: str, value: Any) -> None:
    *path, last = key.split(".")
    made = _round_trip()
    for i, part in enumerate(path):
        inside = data.get(part)
        if isinstance(inside, str) and path[0] == "ends" and i == 1:
            # a style by its name alone
            inside = data[part] = made.load(f"{{style: {inside}}}")
        elif inside is None:
            inside = data[part] = made.load("{}")
        if not hasattr(inside, "keys"):
            text = "lies below a value that has no keys; give the whole of it"
            raise SpecError(error("bad-key", key[:60], text))
        data = inside
    data[last] = value


def _take(data: Any, key: str) -> None:
    """Take a key away, and with it mappings that it leaves empty."""
    path, places = key.split("."), [data]
    for part in path[:-1]:
        inside = places[-1].get(part)
        if not hasattr(inside, "keys"):
            return
        places.append(inside)
    for place, part in zip(reversed(places), reversed(path), strict=True):
        place.pop(part, None)
        if len(place):
            return
