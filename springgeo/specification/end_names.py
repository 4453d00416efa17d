"""What the two ends are called in a file: ``first`` and ``second``; ``a`` and ``b`` do, too."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

Side = Literal["first", "second"]
SIDES: tuple[Side, Side] = ("first", "second")
LETTERS: dict[str, str] = {"a": "first", "b": "second"}
_SECTIONS = ("ends", "mating")


def spelled(data: Mapping[str, object]) -> dict[str, object]:
    """Return a specification's mapping with its ends called first and second.

    A section that has both names of one end is left alone, so that the letter is refused.

    Examples
    --------
    >>> spelled({"ends": {"a": "plain", "second": "v-hook"}})
    {'ends': {'first': 'plain', 'second': 'v-hook'}}
    """
    return {k: _spelled(v) if k in _SECTIONS else v for k, v in data.items()}


def _spelled(section: object) -> object:
    if not isinstance(section, Mapping):
        return section
    taken = {k: v for k, v in LETTERS.items() if k in section and v not in section}
    return {taken.get(k, k): v for k, v in section.items()} if taken else section


def spelled_key(key: str) -> str:
    """Return a dotted key with its end called first or second.

    Examples
    --------
    >>> spelled_key("ends.first.style"), spelled_key("wire.diameter")
    ('ends.first.style', 'wire.diameter')
    """
    parts = key.split(".")
    if len(parts) > 1 and parts[0] in _SECTIONS:
        parts[1] = LETTERS.get(parts[1], parts[1])
    return ".".join(parts)
