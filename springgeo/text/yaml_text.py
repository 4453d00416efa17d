"""A specification's text: safe YAML, refused with a finding that names the file."""

from __future__ import annotations

from typing import Any

from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.text.safe_yaml import LARGEST, parse_yaml

__all__ = ["LARGEST", "read_yaml"]


def read_yaml(text: str, source: str) -> dict[str, Any]:
    """Return the mapping a YAML text holds; ``source`` names it in messages.

    Raises
    ------
    SpecError
        See `springgeo.text.safe_yaml.parse_yaml`.
    """
    try:
        return parse_yaml(text)
    except ValueError as exc:
        words = " ".join(str(exc).split())[:300]
        raise SpecError(error("bad-yaml", source, words)) from None
