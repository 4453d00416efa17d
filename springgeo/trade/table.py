"""The tables of this room, each read once from the YAML file beside it."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

from springgeo.text.safe_yaml import parse_own


@cache
def table(name: str) -> dict[str, Any]:
    """Return the content of ``<name>.yaml``; nobody changes it."""
    path = files("springgeo.trade").joinpath(f"{name}.yaml")
    return parse_own(path.read_text(encoding="utf-8"))
