"""``springgeo making``: the maker's page."""

from __future__ import annotations

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import asked, both_option, language_option, paper_option
from springgeo.cli.source import spec_argument, spring_from
from springgeo.cli.target import out_file
from springgeo.specification.making import Paper
from springgeo.text.shown import Language

_ENDINGS = (".pdf", ".svg", ".dxf", ".png", ".json", ".csv")


@click.command("making")
@spec_argument
@out_file(
    *_ENDINGS, default="making.pdf", says=f"Ends in {', '.join(_ENDINGS[:-1])} or {_ENDINGS[-1]}."
)
@paper_option
@click.option(
    "--tolerance",
    type=click.FloatRange(1e-6, 1.0),
    default=0.01,
    show_default=True,
    metavar="MM",
    help="How far the wire bent by the table may come out: less takes more steps.",
)
@language_option
@both_option
def command(
    spec: str | None,
    preset: str | None,
    out: str,
    paper: Paper | None,
    tolerance: float,
    language: Language | None,
    both_units: bool,
) -> int:
    """Write how SPEC is made: bends, arbor, inspection list.

    Arbor and coils as wound are estimates. CSV: the bending table, and beside it
    FILE-inspection.csv. JSON: everything, in mm, N, MPa, deg.
    """
    spring = spring_from(spec, preset)
    with Progress(1) as say:
        say("computing and writing")
        files = spring.making(
            out,
            paper=paper,
            tolerance=tolerance,
            units=asked(),
            language=language,
            both_units=both_units,
        )
    for path in files:
        click.echo(f"wrote {path}: {path.stat().st_size / 1024:.0f} kB")
    return 0
