"""Values nobody should write, and mappings in which some stand: seeded, the same each time."""

from __future__ import annotations

import copy
import json
from typing import Any

import numpy as np

Random = np.random.Generator

VALUES: tuple[Any, ...] = (
    0,
    -1,
    1,
    0.5,
    1e-308,
    1e308,
    -1e308,
    1e-12,
    1e12,
    float("nan"),
    float("inf"),
    -float("inf"),
    10**400,
    True,
    False,
    None,
    "",
    " ",
    "5 mm",
    "5 N",
    "1/0 in",
    "1e999 mm",
    "nan mm",
    "-3 lbf",
    "12 ga",
    "1,2 mm",
    "5 parsec",
    "astm-a228",
    "plain",
    "machine-half-loop",
    "\x1b[31mred\x07",
    "\u202eabc",
    "é" * 300,
    "x" * 20_000,
    "../../etc/x",
    "none.yaml",
    "null",
    [],
    [1],
    [1, "2 mm", None],
    [[1, 2], [3, 4]],
    [1.0] * 500,
    {},
    {"style": "plain"},
    {"a": {"b": {"c": 1}}},
    {"": 1},
)


def pick(rng: Random, values: Any) -> Any:
    """Return one of several values, as it stands."""
    return values[int(rng.integers(len(values)))]


def places(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the path of everything in a nest of mappings and lists."""
    found = [path] if path else []
    inner = data.items() if isinstance(data, dict) else ()
    inner = enumerate(data) if isinstance(data, list) else inner
    for key, value in inner:
        found += places(value, (*path, key))
    return found


def spoilt(rng: Random, data: dict[str, Any], most: int = 3) -> dict[str, Any]:
    """Return a copy with up to ``most`` things replaced, scaled, taken away or added."""
    out = copy.deepcopy(data)
    for _ in range(int(rng.integers(1, most + 1))):
        known = places(out)
        if not known:
            break
        *path, last = pick(rng, known)
        parent = out
        for key in path:
            parent = parent[key]
        _spoil(rng, parent, last)
    return out


def _spoil(rng: Random, parent: Any, last: Any) -> None:
    what, value = rng.random(), parent[last]
    number = isinstance(value, float | int) and not isinstance(value, bool)
    if number and abs(value) < 1e300 and what < 0.4:
        parent[last] = value * float(10 ** rng.normal(0, 2)) * (1 if rng.random() < 0.9 else -1)
    elif what < 0.75:
        parent[last] = copy.deepcopy(pick(rng, VALUES))
    elif what < 0.9:
        del parent[last]
    elif isinstance(parent, dict):
        parent[str(pick(rng, ("x", "name", str(last) + "s", "style", "a.b")))] = pick(rng, VALUES)


def as_yaml(rng: Random, data: dict[str, Any]) -> str:
    """Return a mapping as text, in one case of five with a few characters spoilt."""
    # JSON is YAML, but for the names of what is not finite
    text = json.dumps(data)
    for word, name in (("NaN", ".nan"), ("-Infinity", "-.inf"), ("Infinity", ".inf")):
        text = text.replace(word, name)
    return garbled(rng, text)


def garbled(rng: Random, text: str) -> str:
    """Return a text with, in one case of five, a few characters spoilt."""
    if rng.random() < 0.8 or not text:
        return text
    letters = list(text)
    for _ in range(int(rng.integers(1, 6))):
        at = int(rng.integers(len(letters)))
        letters[at] = str(
            pick(rng, ('"', "'", ":", "{", "}", ",", ";", "\t", "\n", "\x00", "é", ""))
        )
    return "".join(letters)
