"""``springgeo making``: the maker's page."""

from __future__ import annotations

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import SheetAsked, sheet_options
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.target import out_file

_ENDINGS = (".pdf", ".svg", ".dxf", ".png", ".json", ".csv")


@click.command("making")
@spec_argument
@out_file(
    *_ENDINGS, default="making.pdf", says=f"Ends in {', '.join(_ENDINGS[:-1])} or {_ENDINGS[-1]}."
)
@click.option(
    "--tolerance",
    type=click.FloatRange(1e-6, 1.0),
    default=0.01,
    show_default=True,
    metavar="MM",
    help="How far the wire bent by the table may come out: less takes more steps.",
)
@sheet_options
def command(
    source: Source,
    out: str,
    tolerance: float,
    sheet: SheetAsked,
) -> int:
    """Write how SPEC is made: bends, arbor, inspection list.

    Arbor and coils as wound are estimates. CSV: the bending table, and beside it
    FILE-inspection.csv. JSON: everything, in mm, N, MPa, deg.
    """
    spring = source.spring()
    with Progress(1) as say:
        say("computing and writing")
        files = spring.making(out, tolerance=tolerance, **sheet)
    for path in files:
        click.echo(f"wrote {path}: {path.stat().st_size / 1024:.0f} kB")
    return 0
