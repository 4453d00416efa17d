"""``springgeo making``: the maker's page."""

from __future__ import annotations

from pathlib import Path
from typing import Any, cast

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import both_option, language_option, sheet_reader
from springgeo.cli.source import spec_argument, spring_from
from springgeo.cli.target import OutFile
from springgeo.text.shown import Language

_ENDINGS = (".pdf", ".svg", ".dxf", ".png", ".json", ".csv")


@click.command("making")
@spec_argument
@click.option(
    "-o",
    "--out",
    type=OutFile(*_ENDINGS),
    default="making.pdf",
    show_default=True,
    metavar="FILE",
    help=f"Ends in {', '.join(_ENDINGS[:-1])} or {_ENDINGS[-1]}.",
)
@click.option(
    "--paper",
    type=click.Choice(["A4", "A3", "Letter"], case_sensitive=False),
    help="A sizes: metric tolerances; Letter: US tolerances [that of the file, or A4].",
)
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
    paper: str | None,
    tolerance: float,
    language: Language | None,
    both_units: bool,
) -> int:
    """Write how SPEC is made: bends, arbor, inspection list.

    Arbor and coils as wound are estimates. CSV: the bending table, and beside it
    FILE-inspection.csv. JSON: everything, in mm, N, MPa, deg.
    """
    from springgeo.drawing.sheet import PAPERS
    from springgeo.files.publish.atomic import atomic_write
    from springgeo.making import bending_csv, inspection_csv, maker_data, making_json

    target, spring = Path(out), spring_from(spec, preset)
    paper = paper or spring.spec.drawing.paper or "A4"
    kind = target.suffix.lower().removeprefix(".")
    with Progress(2) as say:
        say("computing")
        summary = spring.summary()
        data = maker_data(spring.model, summary, PAPERS[cast("Any", paper)].trade, tolerance)
        say("writing")
        if kind == "json":
            files = [(target, making_json(data).encode())]
        elif kind == "csv":
            beside = target.with_name(f"{target.stem}-inspection{target.suffix}")
            files = [(target, bending_csv(data).encode("utf-8"))]
            files.append((beside, inspection_csv(data).encode("utf-8")))
        else:
            from springgeo.drawing import file_names
            from springgeo.drawing.maker_page import maker_pages
            from springgeo.drawing.write import written

            shown = sheet_reader(spring.spec.language, language, both_units)
            pages = maker_pages(spring.model, summary, data, cast("Any", paper), shown)
            contents = written(pages, cast("Any", kind))
            files = list(zip(file_names(target, len(contents)), contents, strict=True))
    for path, content in files:
        atomic_write(path, content)
        click.echo(f"wrote {path}: {len(content) / 1024:.0f} kB")
    return 0
