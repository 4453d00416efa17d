"""What a file holds, by its keys or its name, and which command reads it: for the wrong one."""

from __future__ import annotations

from collections.abc import Mapping
from os import PathLike
from pathlib import Path
from typing import NamedTuple

from springgeo.errors import FileError, refused
from springgeo.text.characters import shown


class Kind(NamedTuple):
    """A kind of file: what it is called, keys that no other has, and what reads it."""

    title: str
    keys: frozenset[str]
    reader: str


def _kind(title: str, keys: str, reader: str) -> Kind:
    return Kind(title, frozenset(keys.split()), reader)


KINDS = {
    "specification": _kind("a specification", "wire body ends", "springgeo check or build"),
    "job": _kind(
        "a sizing job",
        "points installed energy lever envelope choice least objectives weights use_tolerance",
        "springgeo size",
    ),
    "readings": _kind(
        "readings of a sample",
        "pulls bench wire_diameter outer_diameter calliper length_uncertainty load_uncertainty",
        "springgeo measure",
    ),
    "family": _kind("a family", "base vary", "springgeo family"),
    "material": _kind(
        "a material",
        "tensile shear_modulus elastic_modulus density_g_cm3 static_allowables",
        "a specification by wire.material",
    ),
    "summary": _kind(
        "a result", "schema_version specification along_the_wire checks", "springgeo inspect"
    ),
}
# files that are told apart by their names alone
_BUILT = (".step", ".stp", ".stl", ".3mf", ".glb", ".obj", ".ply", ".brep")
_TABLES = (".csv", ".tsv", ".parquet", ".pq")


def require_kind(data: Mapping[str, object], expected: str, source: str) -> None:
    """Refuse a mapping that is plainly of another kind; raises SpecError naming its reader."""
    if KINDS[expected].keys & data.keys():
        return
    other = max(KINDS.values(), key=lambda k: len(k.keys & data.keys()))
    if other.keys & data.keys():
        text = f"holds {other.title}, not {KINDS[expected].title}; it is for {other.reader}"
        raise refused("wrong-kind", source, text)


def require_text(path: str | PathLike[str], expected: str, *, tables: bool = False) -> None:
    """Refuse a file whose name says that it is built, or a table where none is read.

    Raises
    ------
    FileError
        Names the command that reads it.
    """
    ending = Path(path).suffix.lower()
    name = shown(str(path)[:200])
    if ending in _BUILT:
        text = f"it is a built file, not {KINDS[expected].title}; springgeo inspect reads it"
        raise FileError(f"cannot read '{name}': {text}")
    if ending in _TABLES and not tables:
        text = (
            f"it is a table, not {KINDS[expected].title}; springgeo family reads a table of "
            "springs, springgeo measure readings or, with --bench, a test-bench run"
        )
        raise FileError(f"cannot read '{name}': {text}")
