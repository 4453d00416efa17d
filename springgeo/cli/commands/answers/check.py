"""``springgeo check``: everything that needs no kernel."""

from __future__ import annotations

import click

from springgeo.cli import table
from springgeo.cli.reader import json_option, reader, strict_option
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.verdict import exit_code


@click.command("check")
@spec_argument
@json_option("the summary")
@strict_option
def command(source: Source, as_json: bool, strict: bool) -> int:
    """Check SPEC without building it: stresses, lengths, findings."""
    summary = source.spring().summary()
    if as_json:
        click.echo(summary.json_text())
    else:
        for line in table.report(summary, reader()):
            click.echo(line)
    return exit_code(summary, strict)
