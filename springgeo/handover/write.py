"""Writes the load curve: CSV, JSON, MJCF or Modelica, by the ending."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Callable, Sequence
from pathlib import Path

from springgeo.computed import ComputedSpring
from springgeo.errors import FileError, SpecError
from springgeo.files.publish.naming import file_stem
from springgeo.findings import error
from springgeo.handover.mjcf import mjcf_text
from springgeo.handover.modelica import modelica_text
from springgeo.handover.table import SCHEMA, LoadTable, Told
from springgeo.publish.atomic import atomic_write
from springgeo.results.facts import CAUTIONS
from springgeo.state import State

Pins = tuple[float, float]
_Text = Callable[[ComputedSpring, LoadTable, Pins], str]


def write(
    spring: ComputedSpring,
    path: Path,
    *,
    load: float | None = None,
    length: float | None = None,
    pins: Pins = (0.0, 0.0),
    told: Told = lambda _text: None,
) -> LoadTable:
    """Write the load curve and return its points; arguments and errors as ``Spring.curve``."""
    if path.suffix.lower() not in _TEXTS:
        raise FileError(f"'{path}' must end in {', '.join(ENDINGS[:-1])} or {ENDINGS[-1]}")
    if not all(math.isfinite(d) and d >= 0 for d in pins):
        why = f"{pins[0]:g} and {pins[1]:g} mm: diameters of pins are finite, from zero up"
        raise SpecError(error("bad-value", "pins", why))
    table = LoadTable.of(spring.load_curve, _most(spring, load, length), told)
    atomic_write(path, text_of(path.suffix.lower(), spring, table, pins).encode("ascii"))
    return table


def text_of(ending: str, spring: ComputedSpring, table: LoadTable, pins: Pins = (0.0, 0.0)) -> str:
    """Return what a file of one of ``ENDINGS`` holds."""
    return _TEXTS[ending](spring, table, pins)


def _most(spring: ComputedSpring, load: float | None, length: float | None) -> float:
    """Return the load that the curve goes up to, N."""
    if load is not None or length is not None:
        return State.asked(spring.load_curve, load=load, length=length)
    summary = spring.summary()
    return float(max(summary.pull.travel_stop_load, *(p.load for p in summary.points), 0.0))


def _csv(spring: ComputedSpring, table: LoadTable, _pins: Pins) -> str:
    out = io.StringIO()
    # most readers of CSV pass over a line that starts so (comment="#")
    out.write(f"# {' '.join(_words(spring, table))}\n".encode("ascii", "replace").decode())
    writer = csv.writer(out, lineterminator="\n")
    columns = table.columns()
    writer.writerow(columns)
    rows = zip(*(c.tolist() for c in columns.values()), strict=True)
    writer.writerows([f"{x:.9g}" for x in row] for row in rows)
    return out.getvalue()


def _json(spring: ComputedSpring, table: LoadTable, _pins: Pins) -> str:
    curve = spring.load_curve
    facts = {
        "schema_version": SCHEMA,
        "name": spring.spec.name,
        "units": "mm, N, N/mm, N mm",
        "free_length": curve.free_length,
        "initial_tension": curve.initial_tension,
        **table.facts(),
        "cautions": [*_pulled(spring), *map(str, CAUTIONS)],
    }
    return json.dumps(facts, indent=2, ensure_ascii=True, allow_nan=False) + "\n"


def _mjcf(spring: ComputedSpring, table: LoadTable, pins: Pins) -> str:
    words = [
        *_words(spring, table),
        "The tendons together pull the sites first_end and second_end toward each other, "
        f"{_between(pins)}; below the free length not at all, beyond the table along its last "
        "line.",
        "Metres, newtons. The spring has no mass here.",
    ]
    return mjcf_text(table, file_stem(spring.spec.name), words, pins)


def _modelica(spring: ComputedSpring, table: LoadTable, pins: Pins) -> str:
    words = [
        *_words(spring, table),
        "Below the free length no load, beyond the table along its last line. Metres, newtons.",
        "The element Spring stands " + _between(pins) + "; it has no mass.",
        "It needs the Modelica Standard Library; the function load needs nothing.",
    ]
    return modelica_text(table, file_stem(spring.spec.name), words, pins)


def _between(pins: Pins) -> str:
    if pins == (0.0, 0.0):
        return "between the contacts inside the hooks"
    return f"between the middles of pins of {pins[0]:.6g} and {pins[1]:.6g} mm"


def _words(spring: ComputedSpring, table: LoadTable) -> list[str]:
    curve = spring.load_curve
    return [
        f"{spring.spec.name[:80]}: load over length inside hooks, mm, N.",
        f"Free length {curve.free_length:.6g} mm, initial tension {curve.initial_tension:.6g} N,",
        f"up to {table.load[-1]:.6g} N at {table.length[-1]:.6g} mm.",
        f"Straight lines between the points are within {100 * table.off:.2g} % of the load.",
        *_pulled(spring),
        *map(str, CAUTIONS),
    ]


def _pulled(spring: ComputedSpring) -> list[str]:
    """Return of which pull the curve is, where the spring is mounted otherwise."""
    if not spring.is_mounted:
        return []
    return ["Of the straight pull: where its mating section mounts it, it bears other loads."]


_TEXTS: dict[str, _Text] = {".csv": _csv, ".json": _json, ".xml": _mjcf, ".mo": _modelica}
ENDINGS: Sequence[str] = tuple(_TEXTS)
