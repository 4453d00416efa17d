"""``springgeo report``: one page about the spring, with a view to turn."""

from __future__ import annotations

from pathlib import Path

import click

from springgeo.cli.progress import Progress
from springgeo.cli.source import spec_argument, spring_from


@click.command("report")
@spec_argument
@click.option(
    "-o",
    "--out",
    default="spring.html",
    show_default=True,
    metavar="FILE",
    help="Ends in .html or .htm.",
)
def command(spec: str | None, preset: str | None, out: str) -> int:
    """Write one HTML page about SPEC: 3-D view, diagrams, tables.

    The page opens in any browser, offline, and prints.
    """
    from springgeo.report import write

    if Path(out).suffix.lower() not in (".html", ".htm"):
        raise click.UsageError(f"'{out}' must end in .html or .htm")
    with Progress(1) as say:
        say("computing and drawing")
        file = write(spring_from(spec, preset), out)
    click.echo(f"wrote {out}: {file.stat().st_size / 1024:.0f} kB")
    return 0
