"""What a user says of a test bench's CSV, on the command line or in the file of readings."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from springgeo.errors import SpecError, refused
from springgeo.findings import nearest
from springgeo.measure.bench_head import HOLDS, Said
from springgeo.text.characters import shown
from springgeo.text.json_value import Json

_COLUMNS = "write length=NAME,load=NAME (or extension=NAME), by the heads or numbers of columns"


def said_in_words(columns: str | None, units: str | None) -> Said:
    """Return what ``length=Weg,load=Kraft`` and ``mm,N`` say; raises SpecError."""
    pairs: Mapping[str, Json] | None = None
    if columns is not None:
        parts = [p.partition("=") for p in columns.split(",")]
        if any(not sign for _, sign, _ in parts):
            raise _refuse("columns", f"'{columns[:60]}' names no columns; {_COLUMNS}")
        pairs = {key.strip(): value.strip() for key, _, value in parts}
    return Said(_columns(pairs), _units(None if units is None else units.split(",")))


def said_of(value: object, folder: Path, more: Said) -> tuple[Path, Said]:
    """Return the file and what is said of it under the key ``bench``; ``more`` overrules it."""
    if isinstance(value, str):
        value = {"file": value}
    if not isinstance(value, Mapping) or not isinstance(value.get("file"), str):
        raise _refuse("bench", "needs the name of a CSV file, or {file: run.csv, units: [mm, N]}")
    if extra := value.keys() - {"file", "columns", "units"}:
        key = str(sorted(extra)[0])
        text = f"is not a key here; {nearest(key, ('file', 'columns', 'units'))}"
        raise _refuse(f"bench.{key[:60]}", text)
    said = Said(_columns(value.get("columns")), _units(value.get("units")))
    return folder / value["file"], Said(more.columns or said.columns, more.units or said.units)


def _columns(value: Any) -> Mapping[str, str] | None:
    if value is None:
        return None
    if not isinstance(value, Mapping) or value.keys() - set(HOLDS):
        raise _refuse("columns", f"needs length or extension, and load; {_COLUMNS}")
    if "load" not in value or len(value) != 2 or any(v in (None, "") for v in value.values()):
        raise _refuse("columns", f"needs one of length and extension, and load; {_COLUMNS}")
    return {k: str(v)[:100] for k, v in value.items()}


def _units(value: object) -> tuple[str, str] | None:
    if value is None:
        return None
    if not isinstance(value, list) or len(value) != 2 or not all(isinstance(v, str) for v in value):
        raise _refuse("units", "needs a unit of length and one of force, such as mm,N or in,lbf")
    return value[0].strip(), value[1].strip()


def _refuse(field: str, words: str) -> SpecError:
    return refused("bad-bench", shown(field), shown(words))
