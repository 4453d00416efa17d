"""``springgeo report``: one page about the spring, with a view to turn."""

from __future__ import annotations

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import asked, language_option
from springgeo.cli.source import spec_argument, spring_from
from springgeo.cli.target import out_file
from springgeo.text.shown import Language


@click.command("report")
@spec_argument
@out_file(".html", ".htm", default="spring.html", says="Ends in .html or .htm.")
@language_option
def command(spec: str | None, preset: str | None, out: str, language: Language | None) -> int:
    """Write one HTML page about SPEC: 3-D view, diagrams, tables.

    The page opens in any browser, offline, and prints.
    """
    with Progress(1) as say:
        say("computing and drawing")
        spring = spring_from(spec, preset)
        file = spring.report(out, units=asked(), language=language)
    click.echo(f"wrote {out}: {file.stat().st_size / 1024:.0f} kB")
    return 0
