"""``springgeo curve``: the load curve as a table, or as a spring element of a multi-body format."""

from __future__ import annotations

import json

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import json_option
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.table import caution
from springgeo.cli.target import out_file
from springgeo.results.facts import CAUTIONS
from springgeo.text.state_words import parse_state
from springgeo.units import parse

# stretches of the curve that a table is made of
_STEPS = 11


@click.command("curve")
@spec_argument
@out_file(".csv", ".json", ".xml", ".mo", default="curve.csv")
@click.option(
    "--to",
    metavar="STATE",
    help="How far: a load (40N) or a length (60mm); to the travel stop, or the highest load of "
    "SPEC, if left out.",
)
@click.option(
    "--pins",
    metavar="D1,D2",
    help="Diameters of the pins: .xml and .mo then count from middle to middle.",
)
@json_option("the points")
def command(
    source: Source,
    out: str,
    to: str | None,
    pins: str | None,
    as_json: bool,
) -> int:
    """Write load over length of SPEC: CSV, JSON, MJCF, Modelica.

    By the ending of the file: .csv, .json, .xml (MJCF) or .mo (Modelica). The straight pull,
    inside hooks. Straight lines between the points stay within 0.1 % of the
    load.
    """
    diameters = _pins(pins)
    wanted = None if to is None else parse_state(to)
    if wanted is not None and wanted.load is None and wanted.length is None:
        raise click.UsageError("--to: give a load (40N) or a length (60mm)")
    spring = source.spring()
    with Progress(_STEPS) as say:
        table = spring.curve(
            out,
            load=wanted and wanted.load,
            length=wanted and wanted.length,
            pins=diameters,
            told=say,
        )
    if as_json:
        click.echo(json.dumps(table.facts(), indent=2, allow_nan=False))
        return 0
    off = 100 * table.off
    click.echo(f"wrote {out}: {len(table.load)} points, straight lines within {off:.2g} %")
    click.echo(caution(CAUTIONS))
    return 0


def _pins(text: str | None) -> tuple[float, float]:
    if text is None:
        return 0.0, 0.0
    words = text.split(",")
    if len(words) != 2:
        raise click.UsageError(f"--pins: '{text[:40]}' is not two diameters, such as 5mm,6mm")
    try:
        return parse(words[0], "length"), parse(words[1], "length")
    except ValueError as exc:
        raise click.UsageError(f"--pins: {exc}") from None
