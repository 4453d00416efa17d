"""``springgeo prototype``: a plate for a 3D printer, for shape and fit only."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from springgeo import units
from springgeo.cli.reader import json_option, reader, strict_option
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.table import findings, rows
from springgeo.cli.target import out_file
from springgeo.cli.verdict import warn
from springgeo.text import quantity as q

if TYPE_CHECKING:
    from springgeo.prototype import Prototype


def _length(_ctx: click.Context, _param: click.Parameter, value: str | None) -> float | None:
    try:
        return None if value is None else units.parse(value, "length")
    except ValueError as exc:
        raise click.BadParameter(str(exc)) from None


def _bed(
    _ctx: click.Context, _param: click.Parameter, value: str | None
) -> tuple[float, float] | None:
    if value is None:
        return None
    sides = re.split(r"[x×]", value)
    if len(sides) != 2:
        raise click.BadParameter(f"'{value[:40]}' needs a width and a depth, such as 220x220")
    try:
        width, depth = (units.parse(side, "length") for side in sides)
    except ValueError as exc:
        raise click.BadParameter(str(exc)) from None
    return width, depth


@click.command("prototype")
@spec_argument
@out_file(".3mf", default="prototype.3mf", metavar="FILE.3mf")
@click.option("--scale", type=float, default=1.0, show_default=True, help="1 is true size.")
@click.option("--nozzle", callback=_length, default="0.4 mm", show_default=True, metavar="MM")
@click.option("--gap", callback=_length, metavar="MM", help="Between coils, printed [one nozzle].")
@click.option("--dummy", is_flag=True, help="A rigid dummy: a tube in place of the coils.")
@click.option("--flat", is_flag=True, help="Flats on the underside.")
@click.option("--bed", callback=_bed, metavar="WxD", help="Bed, such as 220x220; mm if bare.")
@click.option("--state", "states", multiple=True, metavar="STATE", help="free, 25N, 60mm; repeat.")
@json_option("the report")
@strict_option
def command(
    source: Source,
    out: str,
    scale: float,
    nozzle: float,
    gap: float | None,
    dummy: bool,
    flat: bool,
    bed: tuple[float, float] | None,
    states: tuple[str, ...],
    as_json: bool,
    strict: bool,
) -> int:
    """Write a 3MF plate to print SPEC: for fit, never a load."""
    from springgeo.prototype import Options, prototype
    from springgeo.publish.atomic import atomic_write

    target = Path(out)
    spring = source.spring()
    options = Options(scale=scale, gap=gap, nozzle=nozzle, dummy=dummy, flat=flat, bed=bed)
    shown = spring.named_states(states)
    warn(shown)
    plate = prototype(spring.model, options, [state.as_named() for state in shown])
    atomic_write(target, plate.threemf(spring.summary()))
    if as_json:
        click.echo(json.dumps(plate.document(), indent=2))
    else:
        for line in _report(plate, target):
            click.echo(line)
    return 1 if strict and any(f.severity != "note" for f in plate.findings) else 0


def _report(plate: Prototype, target: Path) -> Iterator[str]:
    shown = reader()
    unit = shown.unit("length")
    yield f"*** {plate.caution} ***"
    yield from rows(
        [
            ["print", *(f"{x} {unit}" for x in "xyz"), f"volume {shown.unit('bulk')}"],
            *(
                [
                    p.name,
                    *(shown.value(q.length(v, places=1)) for v in p.size),
                    shown.value(q.Quantity("bulk", p.volume, places=2)),
                ]
                for p in plate.prints
            ),
        ]
    )
    x, y, z = plate.box[1] - plate.box[0]
    size = " x ".join(shown.value(q.length(v, places=0)) for v in (x, y, z))
    yield f"plate: {size} {unit}; {plate.orientation}"
    yield from findings(plate.findings, shown)
    yield f"file: {target} ({target.stat().st_size / 1024:.0f} kB)"
