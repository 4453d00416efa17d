"""A file's text as a mapping: safe YAML, refused with a finding that names the file."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from springgeo.errors import refused
from springgeo.text.characters import shown
from springgeo.text.json_value import Json
from springgeo.text.kinds import require_kind, require_text
from springgeo.text.safe_yaml import LARGEST, parse_yaml
from springgeo.text.text_file import text_of

__all__ = ["LARGEST", "read_yaml", "yaml_of"]


def read_yaml(text: str, source: str) -> dict[str, Json]:
    """Return the mapping a YAML text holds; ``source`` names it in messages.

    Raises
    ------
    SpecError
        See `springgeo.text.safe_yaml.parse_yaml`.
    """
    try:
        return parse_yaml(text)
    except ValueError as exc:
        words = shown(" ".join(str(exc).split()))[:300]
        raise refused("bad-yaml", shown(source), words) from None


def yaml_of(path: str | PathLike[str], kind: str, *, tables: bool = False) -> dict[str, Json]:
    """Return the mapping in a YAML file that is to be of a ``kind`` of `springgeo.text.kinds`.

    Raises
    ------
    FileError
        It cannot be read, or its name says that it is something else.
    SpecError
        It is not YAML, or plainly of another kind.
    """
    require_text(path, kind, tables=tables)
    data = read_yaml(text_of(path), Path(path).name)
    require_kind(data, kind, shown(Path(path).name))
    return data
