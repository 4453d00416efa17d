"""Inspecting a file of unknown origin: read in a child process with limits, judged, handed over."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from springgeo.files.apart import inspected_apart
from springgeo.files.step.dimension.model import StatedDimension
from springgeo.text.json_value import Json


@dataclass(frozen=True)
class Comparison:
    """One quantity as stated and as measured."""

    name: str
    unit: str
    stated: float
    measured: float
    ok: bool


@dataclass(frozen=True)
class Inspection:
    """A file's summary, what shape it should hold, and the comparison with what it holds.

    ``dimensions``: the semantic dimensions of a STEP file.
    """

    path: Path
    format: str
    summary: dict[str, Any]
    source: str
    shape: dict[str, Json] | None
    comparisons: tuple[Comparison, ...]
    dimensions: tuple[StatedDimension, ...] = ()

    @property
    def matches(self) -> bool:
        """Whether every comparison agrees, and there was something to compare."""
        return bool(self.comparisons) and all(c.ok for c in self.comparisons)


def inspect_file(path: str | os.PathLike[str]) -> Inspection:
    """Return what a STEP, STL, 3MF, GLB or INP file of this package says, and whether it holds.

    Raises
    ------
    FileError
        Not a regular file, not readable, corrupt, of another format, without a springgeo summary,
        or more than the limits of time, memory and unpacked size allow.
    """
    place = Path(path)
    answer = inspected_apart(place)
    return Inspection(
        place,
        answer["format"],
        answer["summary"],
        answer["source"],
        answer["shape"],
        tuple(Comparison(**c) for c in answer["comparisons"]),
        tuple(
            StatedDimension(**d | {"features": tuple(d["features"])}) for d in answer["dimensions"]
        ),
    )
