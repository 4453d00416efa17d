"""``springgeo inspect``: what a written file says of itself, and whether it is still true."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

import click

from springgeo.cli.reader import json_option, reader, units_option
from springgeo.cli.table import caution, rows
from springgeo.errors import FileError
from springgeo.files.inspect import Inspection, inspect_file
from springgeo.files.step.dimension.model import StatedDimension
from springgeo.results.facts import CAUTIONS
from springgeo.text.json_value import Json
from springgeo.text.quantity import Quantity


@click.command("inspect")
@units_option
@click.argument("file")
@json_option("everything")
@click.option("--strict", is_flag=True, help="Leave with 1 if the geometry does not match.")
def command(file: str, as_json: bool, strict: bool) -> int:
    """Show the summary inside FILE, and check it."""
    if Path(file).suffix.lower() in (".yaml", ".yml", ".csv", ".parquet"):
        raise FileError(
            f"cannot inspect '{file}': it is no built file; springgeo check reads a specification"
        )
    found = inspect_file(file)
    if as_json:
        click.echo(json.dumps(_document(found), indent=2))
    else:
        for line in _report(found):
            click.echo(line)
    return 1 if strict and not found.matches else 0


def _document(found: Inspection) -> dict[str, Json]:
    return {
        "schema_version": "springgeo-inspection/1",
        "file": found.path.name,
        "format": found.format,
        "summary_from": found.source,
        "matches": found.matches,
        "comparisons": [asdict(c) for c in found.comparisons],
        "dimensions": [asdict(d) for d in found.dimensions],
        "shape": found.shape,
        "summary": found.summary,
    }


def _report(found: Inspection) -> Iterator[str]:
    s, shape = found.summary, found.shape or {}
    geometry, tension = _mapping(s, "geometry"), _mapping(s, "initial_tension")
    yield f"{_text(s.get('name', '?'))}: {found.format}, summary {_text(found.source)}"
    table = [
        ["material", _text(_mapping(s, "material").get("title")), ""],
        _fact("wire diameter d", "length", geometry.get("wire_diameter")),
        _fact("mean diameter D", "length", geometry.get("mean_diameter")),
        _fact("body coils", "number", geometry.get("body_coils")),
        _fact("free length inside hooks", "length", geometry.get("free_length")),
        _fact("rate, handbook", "rate", s.get("rate")),
        _fact("initial tension", "force", tension.get("force")),
        ["state", _text(shape.get("state")), ""],
        ["detail", _text(shape.get("detail")), ""],
    ]
    yield from rows(table)
    if found.dimensions:
        yield "dimensions in the model"
        yield from rows(
            [["", "value", "limits", "unit", "faces, frames"], *map(_dimension, found.dimensions)]
        )
    if found.comparisons:
        yield "geometry as stated, and as measured in the file"
        yield from rows(
            [
                ["", "stated", "measured", "unit", ""],
                *(
                    [c.name, *_compared(c.stated, c.measured, c.unit), _word(c.ok)]
                    for c in found.comparisons
                ),
            ]
        )
        yield f"verdict: {'matches' if found.matches else 'DOES NOT MATCH its summary'}"
    else:
        yield "verdict: nothing to compare the geometry with"
    if "caution" in shape:
        yield f"*** {_text(shape['caution'])} ***"
    cautions = s.get("cautions")
    words = [_text(c) for c in cautions] if isinstance(cautions, list) else []
    yield caution(words or CAUTIONS)


def _fact(words: str, kind: str, value: object) -> list[str]:
    """Return a row of a value of unknown origin: a number in the reader's units."""
    unit = reader().unit(kind)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return [words, reader().value(Quantity(kind, float(value), 6)), unit]
    return [words, _text(value), unit]


_KINDS = {"mm": "length", "mm3": "volume", "mm³": "volume"}


def _compared(stated: float, measured: float, unit: str) -> list[str]:
    kind = _KINDS.get(unit)
    if kind is None:
        return [f"{stated:.7g}", f"{measured:.7g}", unit]
    values = (reader().value(Quantity(kind, x, 7)) for x in (stated, measured))
    return [*values, unit if reader().units == "mm" else reader().unit(kind)]


def _dimension(d: StatedDimension) -> list[str]:
    kind = _KINDS.get(d.unit)

    def said(x: float, digits: int) -> str:
        return f"{x:.{digits}g}" if kind is None else reader().value(Quantity(kind, x, digits))

    limits = "" if d.lower is None or d.upper is None else f"{said(d.lower, 4)} {said(d.upper, 4)}"
    on = " to ".join(str(n) for n in d.features)
    unit = d.unit if kind is None else reader().unit(kind)
    return [_text(d.label), said(d.value, 7), limits, unit, on]


def _mapping(of: dict[str, object], key: str) -> dict[str, Json]:
    """Return a mapping inside a summary of unknown origin, empty if it is something else."""
    value = of.get(key)
    return value if isinstance(value, dict) else {}


def _text(value: object) -> str:
    """Return a value of a file of unknown origin: short, in one line, nothing but printable."""
    if isinstance(value, float):
        return f"{value:.6g}"
    text = "-" if value is None else str(value)[:200]
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def _word(ok: bool) -> str:
    return "ok" if ok else "DIFFERS"
