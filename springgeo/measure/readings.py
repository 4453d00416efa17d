"""What was read off a spring: callipers, coils counted, and loads at lengths."""

from __future__ import annotations

from collections.abc import Mapping
from os import PathLike
from pathlib import Path
from typing import Annotated, Any, NamedTuple, Self

import numpy as np
from pydantic import BeforeValidator, Field, PrivateAttr, ValidationError, model_validator

from springgeo import materials, units
from springgeo.errors import SpecError, refused
from springgeo.findings import Finding
from springgeo.measure.bench import read_bench
from springgeo.measure.bench_head import Said
from springgeo.measure.keywords import read_keywords
from springgeo.measure.said import said_of
from springgeo.specification import EndChoice
from springgeo.specification.base import SpecModel, rule
from springgeo.specification.name import MaterialName, Name
from springgeo.specification.problems import findings_of
from springgeo.specification.quantity import Force, Length, Number, WireSize
from springgeo.text.characters import shown
from springgeo.text.kinds import require_kind, require_text
from springgeo.text.quantity import Units
from springgeo.text.yaml_text import yaml_of

# of a line: two numbers follow from them, and one must be left to see how well they fit
FEWEST = 3
# beyond what is coiled or weighed; and no instrument reads a millionth of a millimetre or newton
MOST, LEAST = 1e6, 1e-6
Above = Annotated[Length, Field(ge=LEAST, le=MOST)]
Load = Annotated[Force, Field(ge=LEAST, le=MOST)]


def _several(value: object) -> Any:
    return value if isinstance(value, list | tuple) else (value,)


Several = Annotated[
    tuple[Above, ...], BeforeValidator(_several), Field(min_length=1, max_length=200)
]
Wires = Annotated[
    tuple[Annotated[WireSize, Field(ge=LEAST, le=MOST)], ...],
    BeforeValidator(_several),
    Field(min_length=1, max_length=200),
]


class Pull(SpecModel):
    """A load read at a length inside hooks."""

    length: Above
    load: Load


class BenchFacts(NamedTuple):
    """What came of a bench run: its name, how many of the last pulls are its, its longest, mm."""

    name: str
    pulls: int
    longest: float
    findings: tuple[Finding, ...]


class Readings(SpecModel):
    """Readings of one spring; a length may be a list of repeated readings.

    ``calliper``, ``length_uncertainty`` and ``load_uncertainty`` are standard uncertainties of a
    single reading. ``coils`` are body coils. ``hooks`` names the end styles of A and B.
    """

    name: Name = "measured spring"
    # of the table; bare numbers are mm and N whatever it says
    units: Annotated[Units, Field(exclude=True)] = "mm"
    wire_diameter: Wires
    outer_diameter: Several
    coils: Annotated[Number, Field(gt=0, le=MOST)]
    free_length: Several
    body_length: Several | None = None
    pulls: Annotated[tuple[Pull, ...], Field(min_length=FEWEST, max_length=1000)]
    calliper: Above = 0.01
    coils_uncertainty: Annotated[Number, Field(ge=LEAST, le=MOST)] = 0.05
    length_uncertainty: Above = 0.1
    load_uncertainty: Load = 0.05
    hooks: tuple[EndChoice, EndChoice] = (
        EndChoice(style="full-twisted-loop"),
        EndChoice(style="full-twisted-loop"),
    )
    material: MaterialName | None = None
    _run: BenchFacts | None = PrivateAttr(default=None)

    @property
    def run(self) -> BenchFacts | None:
        """What was made of the run of a test bench, if there was one."""
        return self._run

    def with_run(self, run: BenchFacts | None) -> Self:
        """Return the same readings, with what was made of the run among them."""
        found = self.model_copy()
        found._run = run  # noqa: SLF001 - its own
        return found

    @model_validator(mode="after")
    def _possible(self) -> Self:
        if not np.mean(self.outer_diameter) > 2 * np.mean(self.wire_diameter):
            text = "must be more than twice the wire diameter; read it again"
            raise rule("outside-diameter", text, "outer_diameter")
        return self


def read_readings(
    path: str | PathLike[str],
    bench: str | PathLike[str] | None = None,
    said: Said = Said(),  # noqa: B008 - a constant
    known: Mapping[str, object] | None = None,
) -> Readings:
    """Return the readings in a YAML or CSV file; raises FileError or SpecError.

    ``bench`` is the CSV of a test-bench run, whose readings join the pulls, and ``said`` what is
    known of its columns; the file may name it too, by the key ``bench``, relative to itself:
    ``bench: run.csv`` or ``bench: {file: run.csv, columns: {length: Weg, load: Kraft},
    units: [mm, N]}``. What the file leaves out is taken from ``known``.
    """
    place = Path(path)
    require_text(place, "readings", tables=True)
    if place.suffix.lower() in (".csv", ".tsv"):
        data = read_keywords(place, frozenset(Readings.model_fields))
        require_kind(data, "readings", shown(place.name))
    else:
        data = yaml_of(place, "readings", tables=True)
    data = {**(known or {}), **data}
    if bench is None and data.get("bench") is not None:
        bench, said = said_of(data["bench"], place.parent, said)
    if bench is None and said != Said():
        text = "columns and units are those of a test-bench run; name it with --bench"
        raise refused("bench-missing", "bench", text)
    data.pop("bench", None)
    pulls = data.get("pulls") or []
    if not isinstance(pulls, list):
        text = "needs a list, as [{length: 45, load: 9.4}, ...]"
        raise refused("not-a-list", "pulls", text)
    run, more = (None, []) if bench is None else _of_bench(bench, said, data)
    data["pulls"] = [*pulls, *more]
    if len(data["pulls"]) < FEWEST:
        text = (
            f"needs {FEWEST} readings of load at a length at least, as pulls: [{{length: 45, "
            "load: 9.4}, ...] or as a test-bench run with --bench"
        )
        raise refused("too-few-pulls", "pulls", text)
    if "material" in data:
        # a user's own material lies beside the readings
        data["material"] = materials.embedded(data["material"], place.parent)
    try:
        return Readings.model_validate(data).with_run(run)
    except ValidationError as exc:
        raise SpecError(findings_of(exc, Readings)) from None


def _of_bench(
    path: str | PathLike[str], said: Said, data: Mapping[str, object]
) -> tuple[BenchFacts, list[dict[str, float]]]:
    run = read_bench(path, said)
    start = 0.0
    if run.extension:
        try:
            free = _several(data["free_length"])
            start = float(np.mean([units.parse(x, "length") for x in free]))
        except (KeyError, ValueError):
            text = "the bench gives extensions; add free_length, from which they count"
            raise refused("missing-key", "free_length", text) from None
    # a rig's readings before it pulls are no readings of the spring
    pairs = zip((run.length + start).tolist(), run.load.tolist(), strict=True)
    pulls = [{"length": x, "load": y} for x, y in pairs if x >= LEAST and y >= LEAST]
    longest = float((run.length + start).max())
    return BenchFacts(run.name, len(pulls), longest, tuple(run.findings())), pulls
