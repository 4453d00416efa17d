"""``springgeo check``: everything that needs no kernel."""

from __future__ import annotations

import click

from springgeo.cli import table
from springgeo.cli.reader import json_option, reader, strict_option
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.verdict import exit_code
from springgeo.summary import Summary


@click.command("check")
@spec_argument
@json_option("the summary")
@strict_option
def command(source: Source, as_json: bool, strict: bool) -> int:
    """Check SPEC without building it: stresses, lengths, findings."""
    spring = source.spring()
    # a page of text says less than the summary holds
    told = spring.summary() if as_json else spring.sections
    if isinstance(told, Summary):
        click.echo(told.json_text())
    else:
        for line in table.report(told, reader()):
            click.echo(line)
    return exit_code(told, strict)
