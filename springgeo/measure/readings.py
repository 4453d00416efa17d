"""What was read off a spring: callipers, coils counted, and loads at lengths."""

from __future__ import annotations

import csv
from os import PathLike
from pathlib import Path
from typing import Annotated, Any, Self

import numpy as np
from pydantic import BeforeValidator, Field, ValidationError, model_validator

from springgeo import materials, units
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.measure.bench import BENCH_BYTES, read_bench
from springgeo.specification import EndChoice
from springgeo.specification.base import SpecModel, rule
from springgeo.specification.problems import findings_of
from springgeo.specification.quantity import Force, Length, Number
from springgeo.text.text_file import text_of
from springgeo.text.yaml_text import LARGEST, read_yaml

# of a line: two numbers follow from them, and one must be left to see how well they fit
FEWEST = 3
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
    outer_diameter: Several
    coils: Annotated[Number, Field(gt=0)]
    free_length: Several
    body_length: Several | None = None
    pulls: Annotated[tuple[Pull, ...], Field(min_length=FEWEST, max_length=1000)]
    calliper: Above = 0.01
    coils_uncertainty: Annotated[Number, Field(gt=0)] = 0.05
    length_uncertainty: Above = 0.1
    load_uncertainty: Annotated[Force, Field(gt=0)] = 0.05
    hooks: tuple[EndChoice, EndChoice] = (
        EndChoice(style="full-twisted-loop"),
        EndChoice(style="full-twisted-loop"),
    )
    material: Annotated[str, Field(min_length=1, max_length=500)] | dict[str, Any] | None = None

    @model_validator(mode="after")
    def _possible(self) -> Self:
        if not np.mean(self.outer_diameter) > 2 * np.mean(self.wire_diameter):
            text = "must be more than twice the wire diameter; read it again"
            raise rule("outside-diameter", text, "outer_diameter")
        return self


def read_readings(path: str | PathLike[str], bench: str | PathLike[str] | None = None) -> Readings:
    """Return the readings in a YAML or CSV file; raises FileError or SpecError.

    ``bench`` is the CSV of a test-bench run, whose readings join the pulls; the file may name it
    too, by the key ``bench``, relative to itself.
    """
    place = Path(path)
    table = place.suffix.lower() == ".csv"
    # a bench run given by mistake is to be told so, however long
    text = text_of(place, BENCH_BYTES if table else LARGEST)
    data = _rows(text, place.name) if table else read_yaml(text, place.name)
    named = data.pop("bench", None)
    if bench is None and named is not None:
        bench = place.parent / str(named)
    if bench is not None:
        pulls = data.get("pulls") or ()
        data["pulls"] = [*(pulls if isinstance(pulls, list) else ()), *_of_bench(bench, data)]
    if len(data.get("pulls") or ()) < FEWEST:
        text = (
            f"needs {FEWEST} readings of load at a length at least, as pulls: [{{length: 45, "
            "load: 9.4}, ...] or as a test-bench run with --bench"
        )
        raise SpecError(error("too-few-pulls", "pulls", text))
    if "material" in data:
        # a user's own material lies beside the readings
        data["material"] = materials.embedded(data["material"], place.parent)
    try:
        return Readings.model_validate(data)
    except ValidationError as exc:
        raise SpecError(findings_of(exc, Readings)) from None


def _of_bench(path: str | PathLike[str], data: dict[str, Any]) -> list[dict[str, float]]:
    run = read_bench(path)
    start = 0.0
    if run.extension:
        try:
            free = _several(data["free_length"])
            start = float(np.mean([units.parse(x, "length") for x in free]))
        except (KeyError, ValueError):
            text = "the bench gives extensions; add free_length, from which they count"
            raise SpecError(error("missing-key", "free_length", text)) from None
    # a rig's readings before it pulls are no readings of the spring
    pairs = zip((run.length + start).tolist(), run.load.tolist(), strict=True)
    return [{"length": x, "load": y} for x, y in pairs if x > 0 and y > 0]


def _rows(text: str, source: str) -> dict[str, Any]:
    """Return the readings of a CSV: a keyword, then its values; ``pull`` is length, load."""
    data: dict[str, Any] = {}
    apart = max(",;\t", key=text[:10000].count)
    for number, row in enumerate(csv.reader(text.splitlines(), delimiter=apart), 1):
        cells = [c.strip() for c in row if c.strip()]
        if not cells or cells[0].startswith("#"):
            continue
        key, *values = cells
        if number == 1 and key not in Readings.model_fields and key != "pull":
            words = (
                f"'{key[:40]}' is not a reading; write a keyword, then its values, on each "
                "line, such as 'wire_diameter, 1.2 mm'. For the CSV of a test bench, give the "
                "calliper readings here and the run with --bench"
            )
            raise SpecError(error("bad-csv", source, words))
        if key == "pull":
            if len(values) != 2:
                words = f"line {number}: 'pull' needs a length and a load, {len(values)} given"
                raise SpecError(error("bad-csv", source, words))
            length, load = (_number(v, apart) for v in values)
            data.setdefault("pulls", []).append({"length": length, "load": load})
        elif key == "hooks":
            data[key] = [{"style": v} for v in values]
        elif values:
            found = [_number(v, apart) for v in values]
            data[key] = found[0] if len(found) == 1 else found
        else:
            words = f"line {number}: '{key[:40]}' has no value; write a keyword, then its values"
            raise SpecError(error("bad-csv", source, words))
    return data


def _number(text: str, apart: str) -> float | str:
    """Return a number, or the text; where the comma does not part cells it is a decimal comma."""
    if apart != ",":
        text = text.replace(",", ".")
    try:
        return float(text)
    except ValueError:
        return text
