"""``springgeo draw``: the sheet for the spring maker."""

from __future__ import annotations

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import SheetAsked, sheet_options
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.target import out_file


@click.command("draw")
@spec_argument
@out_file(
    ".pdf", ".svg", ".dxf", ".png", default="sheet.pdf", says="Ends in .pdf, .svg, .dxf or .png."
)
@click.option("--strict", is_flag=True, help="Leave with 1 if the spring does not hold its load.")
@sheet_options
def command(
    source: Source,
    out: str,
    strict: bool,
    sheet: SheetAsked,
) -> int:
    """Draw SPEC to scale: views, dimensions, load diagram.

    With the data a maker needs. DXF holds the spring at 1:1 in mm with real dimensions. What one
    sheet cannot hold goes on to further ones: pages of a PDF, else files such as sheet-2.svg.
    """
    from springgeo.drawing.notes import MARK

    spring = source.spring()
    with Progress(1) as say:
        say("computing and drawing")
        files = spring.draw(out, **sheet)
    for path in files:
        on = sheet["paper"] or spring.spec.drawing.sheet
        click.echo(f"wrote {path}: {on}, {path.stat().st_size / 1024:.0f} kB")
    verdict = spring.summary().verdict
    fails = verdict is not None and verdict.outcome == "fails"
    if fails:
        click.echo(f"springgeo: warning: the spring {MARK}; the sheet is marked so", err=True)
    return 1 if strict and fails else 0
