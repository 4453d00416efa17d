"""What was read off a spring: callipers, coils counted, and loads at lengths."""

from __future__ import annotations

import csv
from os import PathLike
from pathlib import Path
from typing import Annotated, Any, Self

import numpy as np
from pydantic import BeforeValidator, Field, ValidationError, model_validator

from springgeo.errors import FileError, SpecError
from springgeo.findings import error
from springgeo.spec import EndChoice
from springgeo.spec.base import SpecModel, rule
from springgeo.spec.problems import findings_of
from springgeo.spec.quantity import Force, Length, Number
from springgeo.spec.yaml_text import read_yaml

Above = Annotated[Length, Field(gt=0)]


def _several(value: Any) -> Any:
    return value if isinstance(value, list | tuple) else (value,)


Several = Annotated[
    tuple[Above, ...], BeforeValidator(_several), Field(min_length=1, max_length=200)
]


class Pull(SpecModel):
    """A load read at a length inside hooks."""

    length: Above
    load: Annotated[Force, Field(gt=0)]


class Readings(SpecModel):
    """Readings of one spring; a length may be a list of repeated readings.

    ``calliper``, ``length_uncertainty`` and ``load_uncertainty`` are standard uncertainties of a
    single reading. ``coils`` are body coils. ``hooks`` names the end styles of A and B.
    """

    name: Annotated[str, Field(min_length=1, max_length=200)] = "measured spring"
    wire_diameter: Several
    outside_diameter: Several
    coils: Annotated[Number, Field(gt=0)]
    free_length: Several
    body_length: Several | None = None
    pulls: Annotated[tuple[Pull, ...], Field(min_length=3, max_length=1000)]
    calliper: Above = 0.01
    coils_uncertainty: Annotated[Number, Field(gt=0)] = 0.05
    length_uncertainty: Above = 0.1
    load_uncertainty: Annotated[Force, Field(gt=0)] = 0.05
    hooks: tuple[EndChoice, EndChoice] = (
        EndChoice(style="full-twisted-loop"),
        EndChoice(style="full-twisted-loop"),
    )
    material: str | None = None

    @model_validator(mode="after")
    def _possible(self) -> Self:
        if not np.mean(self.outside_diameter) > 2 * np.mean(self.wire_diameter):
            text = "must be more than twice the wire diameter; read it again"
            raise rule("outside-diameter", text, "outside_diameter")
        return self


def read_readings(path: str | PathLike[str]) -> Readings:
    """Return the readings in a YAML or CSV file; raises FileError or SpecError."""
    place = Path(path)
    try:
        text = place.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(f"cannot read '{path}': not a UTF-8 text file") from None
    except (OSError, ValueError) as exc:
        raise FileError(f"cannot read '{path}': {getattr(exc, 'strerror', exc)}") from None
    data = _rows(text) if place.suffix.lower() == ".csv" else read_yaml(text, place.name)
    try:
        return Readings.model_validate(data)
    except ValidationError as exc:
        raise SpecError(findings_of(exc, Readings)) from None


def _rows(text: str) -> dict[str, Any]:
    """Return the readings of a CSV: a keyword, then its values; ``pull`` is length, load."""
    data: dict[str, Any] = {}
    for number, row in enumerate(csv.reader(text.splitlines()), 1):
        cells = [c.strip() for c in row if c.strip()]
        if not cells or cells[0].startswith("#"):
            continue
        key, *values = cells
        if key == "pull" and len(values) == 2:
            data.setdefault("pulls", []).append(
                {"length": _number(values[0]), "load": _number(values[1])}
            )
        elif key == "hooks":
            data[key] = [{"style": v} for v in values]
        elif values:
            found = [_number(v) for v in values]
            data[key] = found[0] if len(found) == 1 else found
        else:
            text = f"line {number}: '{key[:40]}' has no value; write a keyword, then its values"
            raise SpecError(error("bad-csv", "readings", text))
    return data


def _number(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text
