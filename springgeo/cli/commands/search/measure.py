"""``springgeo measure``: from readings to a specification."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click
import yaml

from springgeo.cli import table
from springgeo.cli.reader import ask, json_option, look_into, of_file, reader
from springgeo.cli.target import out_file
from springgeo.errors import SpecError
from springgeo.publish.atomic import atomic_write
from springgeo.results.facts import CAUTIONS
from springgeo.text.json_value import Json
from springgeo.text.quantity import Quantity
from springgeo.text.shown import Shown

if TYPE_CHECKING:
    from springgeo.measure import Measured


@click.command("measure")
@click.argument("readings", metavar="FILE")
@click.option("--bench", metavar="CSV", help="A test-bench run: columns of length and load.")
@click.option(
    "--columns",
    metavar="WHAT=NAME,...",
    help="Columns of the run by head or number: length=Weg,load=Kraft; or extension=2,load=3.",
)
@click.option(
    "--units",
    multiple=True,
    metavar="LENGTH,FORCE",
    help="Units of the run, such as mm,N or in,lbf; inch or mm alone: those of what is printed.",
)
@out_file(".yaml", ".yml", says="Write the best-fit specification (YAML).", metavar="SPEC")
@json_option("the result")
def command(
    readings: str,
    bench: str | None,
    columns: str | None,
    units: tuple[str, ...],
    out: str | None,
    as_json: bool,
) -> int:
    """Turn readings of a spring into a specification.

    \b
    FILE is a YAML or CSV of readings; lengths in mm and loads in N unless a unit is given:
      wire_diameter: [1.20, 1.21]      # callipers, repeated or single
      outer_diameter: 10.8
      coils: 18.5                      # of the body
      free_length: 42.3                # inside hooks
      pulls: [{length: 45, load: 9.4}, {length: 50, load: 14.1}, {length: 55, load: 18.8}]
      hooks: [{style: full-twisted-loop}, {style: machine-half-loop}]
    Shows rate and initial tension with their intervals, and the wire whose modulus fits.
    """  # noqa: D301 - click's mark for lines it must not join
    from springgeo.measure import measure, read_readings
    from springgeo.measure.said import said_in_words

    run = _run_units(units, bench)
    try:
        taken = read_readings(readings, bench, said_in_words(columns, run))
    except SpecError:
        look_into(readings, "readings")
        raise
    of_file(taken.units)
    found, shown = measure(taken), reader()
    if out is not None:
        text = yaml.safe_dump(found.specification, sort_keys=False, allow_unicode=True)
        atomic_write(Path(out), f"# From the readings of '{found.name}'.\n{text}".encode())
    if as_json:
        click.echo(json.dumps(_mapping(found), indent=2))
        return 0
    kind = "readings" if bench is None else "readings or means of slices of the run"
    click.echo(f"{found.name}: {int(found.line.used.sum())} {kind} above the knee")
    for line in table.rows(_rows(found, shown)):
        click.echo(line)
    names = [f"{x.material} ({shown.stress(x.shear_modulus, 5)})" for x in found.likely]
    click.echo("wire whose modulus fits: " + (", ".join(names) or "none"))
    for line in table.findings(found.findings, shown):
        click.echo(line)
    click.echo(table.caution(CAUTIONS))
    return 0


def _run_units(said: tuple[str, ...], bench: str | None) -> str | None:
    """Return the units of the run among what ``--units`` says; a system's name is the reader's."""
    run = None
    for text in said:
        if text == "inch":
            ask("inch")
        elif text == "mm" and bench is None:
            ask("mm")
        else:
            run = text
    return run


def _rows(found: Measured, shown: Shown) -> list[list[str]]:
    kinds = {"body coils": "number"}
    facts = [(k, kinds.get(k, "length"), v) for k, v in found.dimensions.items()]
    facts += [
        ("rate", "rate", found.line.rate),
        ("initial tension", "force", found.tension),
        ("shear modulus", "stress", found.shear_modulus),
    ]
    rows = [["", "value", "95 % from", "to"]]
    for name, kind, v in facts:
        unit = shown.unit(kind)
        values = (shown.value(Quantity(kind, x, 5)) for x in (v.value, v.low, v.high))
        rows.append([f"{name}, {unit}" if unit else name, *values])
    return rows


def _mapping(found: Measured) -> dict[str, Json]:
    line = found.line
    return {
        "schema_version": "springgeo-measure/1",
        "units": "mm, N, MPa, N/mm",
        "name": found.name,
        "dimensions": {k: v._asdict() for k, v in found.dimensions.items()},
        "rate": line.rate._asdict(),
        "initial_tension": found.tension._asdict(),
        "load_at_free_length": line.tension._asdict(),
        "readings_used": [bool(x) for x in line.used],
        "shear_modulus": found.shear_modulus._asdict(),
        "likely": [asdict(x) for x in found.likely],
        "specification": found.specification,
        "findings": [f.model_dump() for f in found.findings],
    }
