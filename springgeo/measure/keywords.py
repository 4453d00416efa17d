"""Readings as a table of text: a keyword, then its values, on each line."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

from springgeo.measure.bench import BENCH_BYTES
from springgeo.text.table import bad_table, number, rows, separator
from springgeo.text.text_file import text_of

# their values are words, whatever they look like
_WORDS = ("name", "material", "bench")


def read_keywords(path: Path, known: frozenset[str]) -> dict[str, Any]:
    """Return the readings of a CSV: a keyword, then its values; ``pull`` is length, load.

    Parameters
    ----------
    path : Path
    known : frozenset of str
        The keywords, beside ``pull`` and ``bench``.

    Raises
    ------
    FileError
        It cannot be read.
    SpecError
        A line is not a keyword with values.
    """
    text = text_of(path, BENCH_BYTES)  # a bench run given by mistake is to be told so, however long
    apart, source = separator(text), path.name
    data: dict[str, Any] = {}
    for line, row in rows(text, apart, source):
        cells = [c for c in row if c]
        if not cells or cells[0].startswith("#"):
            continue
        key, *values = cells
        if key not in (known - {"pulls"}) | {"pull", "bench"}:
            raise bad_table(
                source,
                f"line {line}: '{key[:40]}' is not a reading; write a keyword, then its values, "
                "on each line, such as 'wire_diameter, 1.2 mm' or 'pull, 45, 9.4'. For the CSV of "
                "a test bench, give the calliper readings here and the run with --bench",
            )
        if not values:
            words = f"line {line}: '{key}' has no value; write a keyword, then its values"
            raise bad_table(source, words)
        if key == "pull":
            data.setdefault("pulls", []).append(_pull(values, apart, source, line))
        elif key in data:
            raise bad_table(source, f"line {line}: '{key}' is given twice; keep one of them")
        else:
            data[key] = _values(key, values, apart)
    return data


def _pull(values: list[str], apart: str, source: str, line: int) -> dict[str, object]:
    if len(values) != 2:
        words = f"line {line}: 'pull' needs a length and a load, {len(values)} given"
        raise bad_table(source, words)
    length, load = (_value(v, apart) for v in values)
    return {"length": length, "load": load}


def _values(key: str, values: list[str], apart: str) -> object:
    if key == "hooks":
        return list(values)
    found: list[Any] = values if key in _WORDS else [_value(v, apart) for v in values]
    return found[0] if len(found) == 1 else found


def _value(cell: str, apart: str) -> float | str:
    """Return a number, or a text with a unit; its comma is a decimal one where it parts no cell."""
    value = number(cell, apart)
    if not math.isnan(value):
        return value
    return cell.replace(",", ".") if apart != "," else cell
