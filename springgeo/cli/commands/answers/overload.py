"""``springgeo overload``: what is left after it was pulled too far."""

from __future__ import annotations

from dataclasses import replace

import click

from springgeo.cli.given import given
from springgeo.cli.overloaded import lines
from springgeo.cli.progress import Progress
from springgeo.cli.reader import json_option, language_option, reader
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.table import caution
from springgeo.text.shown import Language

# states that an answer usually takes, for the length of the bar
_USUAL = 16


@click.command("overload")
@spec_argument
@click.option("--load", metavar="FORCE", help="The overload.")
@click.option("--length", metavar="LENGTH", help="In its place: drawn to this length inside hooks.")
@click.option(
    "--relieved",
    type=click.FloatRange(0, 1),
    default=1.0,
    show_default=True,
    metavar="SHARE",
    help="Share of coiling stress that heat treatment took away; 0: as coiled.",
)
@language_option
@json_option("the result")
def command(
    source: Source,
    load: str | None,
    length: str | None,
    relieved: float,
    language: Language | None,
    as_json: bool,
) -> int:
    """Estimate what is left of SPEC after an overload.

    With no load, the load that costs 0.1 % of the length.
    """
    spring = source.spring()
    shown = replace(reader(), language=language or spring.spec.language)
    with Progress(_USUAL) as progress:
        found = spring.overload(
            load=given(load, "force", "--load"),
            length=given(length, "length", "--length"),
            relieved=relieved,
            told=lambda at: progress(shown.force(at)),
        )
    if as_json:
        click.echo(found.json_text())
        return 0
    for line in lines(found, shown):
        click.echo(line)
    click.echo(caution([shown.text(text) for text in found.cautions], shown))
    return 0
