"""``springgeo draw``: the sheet for the spring maker."""

from __future__ import annotations

from pathlib import Path
from typing import Literal, cast

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import both_option, language_option, sheet_reader
from springgeo.cli.source import spec_argument, spring_from
from springgeo.cli.target import OutFile
from springgeo.text.shown import Language


@click.command("draw")
@spec_argument
@click.option(
    "-o",
    "--out",
    type=OutFile(".pdf", ".svg", ".dxf", ".png"),
    default="sheet.pdf",
    show_default=True,
    metavar="FILE",
    help="Ends in .pdf, .svg, .dxf or .png.",
)
@click.option(
    "--paper",
    type=click.Choice(["A4", "A3", "Letter"], case_sensitive=False),
    help="A sizes: first angle, metric tolerances; Letter: third angle, US tolerances "
    "[that of the file, or A4].",
)
@click.option("--strict", is_flag=True, help="Leave with 1 if the spring does not hold its load.")
@language_option
@both_option
def command(
    spec: str | None,
    preset: str | None,
    out: str,
    paper: str | None,
    strict: bool,
    language: Language | None,
    both_units: bool,
) -> int:
    """Draw SPEC to scale: views, dimensions, load diagram.

    With the data a maker needs. DXF holds the spring at 1:1 in mm with real dimensions. What one
    sheet cannot hold goes on to further ones: pages of a PDF, else files such as sheet-2.svg.
    """
    from springgeo.drawing import drawing_files, file_names
    from springgeo.drawing.notes import MARK
    from springgeo.files.publish.atomic import atomic_write

    kind = Path(out).suffix.lower().removeprefix(".")
    spring = spring_from(spec, preset)
    paper = paper or spring.spec.drawing.paper or "A4"
    with Progress(2) as say:
        say("computing")
        summary = spring.summary()
        say("drawing")
        data = drawing_files(
            spring.model,
            summary,
            cast("Literal['pdf', 'svg', 'dxf', 'png']", kind),
            cast("Literal['A4', 'A3', 'Letter']", paper),
            sheet_reader(spring.spec.language, language, both_units),
        )
    for path, content in zip(file_names(Path(out), len(data)), data, strict=True):
        atomic_write(path, content)
        click.echo(f"wrote {path}: {paper}, {len(content) / 1024:.0f} kB")
    fails = summary.verdict is not None and summary.verdict.outcome == "fails"
    if fails:
        click.echo(f"springgeo: warning: the spring {MARK}; the sheet is marked so", err=True)
    return 1 if strict and fails else 0
