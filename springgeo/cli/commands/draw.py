"""``springgeo draw``: the sheet for the spring maker."""

from __future__ import annotations

from pathlib import Path
from typing import Literal, cast

import click

from springgeo.cli.progress import Progress
from springgeo.cli.source import spec_argument, spring_from
from springgeo.cli.target import OutFile


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
    default="A4",
    show_default=True,
    help="A sizes: first angle, metric tolerances; Letter: third angle, US tolerances.",
)
def command(spec: str | None, preset: str | None, out: str, paper: str) -> int:
    """Draw SPEC to scale: views, dimensions, load diagram.

    With the data a maker needs. DXF holds the spring at 1:1 in mm with real dimensions.
    """
    from springgeo.drawing import drawing_bytes
    from springgeo.files.publish.atomic import atomic_write

    kind = Path(out).suffix.lower().removeprefix(".")
    spring = spring_from(spec, preset)
    with Progress(2) as say:
        say("computing")
        summary = spring.summary()
        say("drawing")
        data = drawing_bytes(
            spring.model,
            summary,
            cast("Literal['pdf', 'svg', 'dxf', 'png']", kind),
            cast("Literal['A4', 'A3', 'Letter']", paper),
        )
    atomic_write(Path(out), data)
    click.echo(f"wrote {out}: {paper}, {len(data) / 1024:.0f} kB")
    return 0
