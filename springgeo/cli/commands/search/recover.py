"""``springgeo recover``: from a mesh, a scan or a foreign solid to a specification."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click
import yaml

from springgeo.cli import table
from springgeo.cli.progress import Progress
from springgeo.cli.reader import json_option, reader, units_option
from springgeo.cli.target import OutFile, out_file
from springgeo.publish.atomic import atomic_write
from springgeo.results.facts import CAUTIONS
from springgeo.text import quantity as q
from springgeo.text.quantity import Quantity
from springgeo.text.shown import Shown

if TYPE_CHECKING:
    from springgeo.recovery import Recovered, Value

_STEPS = 8


@click.command("recover", short_help="Turn a mesh, a scan or a foreign solid into a specification.")
@units_option
@click.argument("file")
@out_file(".yaml", ".yml", says="Write the specification (YAML).", metavar="SPEC")
@click.option(
    "--picture",
    type=OutFile(".svg"),
    metavar="SVG",
    help="Draw how far the points lie off the wire that was found.",
)
@click.option(
    "--file-unit",
    type=click.Choice(["mm", "cm", "m", "in"]),
    help="Unit of the coordinates [what the format says, or a guess].",
)
@click.option(
    "--readings", metavar="FILE", help="Loads at lengths, as springgeo measure reads them."
)
@click.option("--bench", metavar="CSV", help="A test-bench run, beside --readings.")
@json_option("the result")
def command(
    file: str,
    out: str | None,
    picture: str | None,
    file_unit: str | None,
    readings: str | None,
    bench: str | None,
    as_json: bool,
) -> int:
    """Turn the surface of a part into the specification of its spring.

    \b
    FILE is a mesh (.stl .obj .ply .3mf .glb), a point cloud (.ply .xyz .csv) or a
    solid (.step), from any program or scanner; holes, noise, one side alone, other
    things lying about, a broken hook are borne. Prints each value with the half
    width of its 95 % interval, and what the points do not tell.
    """  # noqa: D301 - click's mark for lines it must not join
    from springgeo.recovery.recover import recover

    if bench is not None and readings is None:
        raise click.UsageError("--bench needs --readings")
    with Progress(_STEPS) as say:
        found = recover(file, readings=readings, bench=bench, file_unit=file_unit, told=say)
        if out is not None:
            text = yaml.safe_dump(found.specification, sort_keys=False, allow_unicode=True)
            atomic_write(Path(out), f"# Recovered from '{Path(file).name}'.\n{text}".encode())
        if picture is not None:
            atomic_write(Path(picture), found.picture().encode())
    if as_json:
        click.echo(json.dumps(found.mapping(), indent=2))
        return 0
    for line in _report(found, reader()):
        click.echo(line)
    return 0


def _report(found: Recovered, shown: Shown) -> Iterator[str]:
    yield f"{found.name}: {found.format}, {found.points} points"
    yield f"unit: {found.unit.name} ({found.unit.known})"
    yield f"hand: {found.hand}; coils: {found.state}"
    facts = [["", "value", "±", ""]]
    facts += [_fact(name.replace("_", " "), v, shown) for name, v in found.rows()]
    yield from table.rows(facts)
    for words, end in zip(("first", "second"), found.ends, strict=True):
        more = f"; as well: {', '.join(end.equal)}" if end.equal else ""
        yield f"{words} end: {end.style}{more}"
    r = found.residual
    rms, share = shown.length(r.rms, 3), shown.quantity(q.percent(100 * r.explained, 3))
    yield f"residual: {rms} (root mean square); {share} of the points lie on the wire found"
    if found.measured is not None:
        m = found.measured
        rate, tension = shown.rate(m.line.rate.value, 4), shown.force(m.tension.value, 4)
        yield f"from the readings: rate {rate}, initial tension {tension}"
    yield from table.findings(found.findings, shown)
    yield table.caution(CAUTIONS)


def _fact(name: str, v: Value, shown: Shown) -> list[str]:
    value = shown.value(Quantity(v.kind, v.value, 6))
    return [name, value, shown.value(Quantity(v.kind, v.uncertainty, 2)), shown.unit(v.kind)]
