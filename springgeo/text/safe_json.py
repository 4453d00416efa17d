"""JSON as untrusted input: one mapping of finite numbers, or a ValueError in one line."""

from __future__ import annotations

import json
from typing import Any, NoReturn

from springgeo.text.json_value import Json

# nothing of ours is half as deep; what writes it again recurses
DEEPEST = 60


def parse_json(text: str | bytes) -> dict[str, Json]:
    """Return the mapping a JSON text holds.

    Raises
    ------
    ValueError
        Not JSON, not a mapping, NaN or infinity in it, numbers of thousands of digits, or nested
        too deeply to be read.
    """
    try:
        data = json.loads(text, parse_constant=_refuse)
    except RecursionError:
        raise ValueError("is nested too deeply") from None
    except json.JSONDecodeError as exc:
        raise ValueError(f"is not JSON (line {exc.lineno}: {exc.msg})") from None
    except UnicodeDecodeError:
        raise ValueError("is not JSON: its bytes are no text") from None
    if not isinstance(data, dict):
        raise ValueError("is not a mapping")
    _require_shallow(data)
    return data


def _require_shallow(data: Any) -> None:
    level = [data]
    for _ in range(DEEPEST):
        inner = (x.values() if isinstance(x, dict) else x for x in level)
        level = [y for x in inner for y in x if isinstance(y, (dict, list))]
        if not level:
            return
    raise ValueError(f"is nested deeper than {DEEPEST} levels")


def _refuse(word: str) -> NoReturn:
    raise ValueError(f"holds {word}, which is not JSON")
