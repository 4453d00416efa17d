"""``springgeo explain``: how a number of the summary was found."""

from __future__ import annotations

import json

import click

from springgeo.cli.reader import json_option, reader
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.table import caution
from springgeo.explanation.lines import listed
from springgeo.results.facts import CAUTIONS


@click.command("explain")
@spec_argument
@click.argument("quantity", required=False)
@json_option("the steps")
def command(source: Source, quantity: str | None, as_json: bool) -> int:
    """Explain QUANTITY, a number of SPEC's summary, or list all.

    A name is the path in the summary, as points.0.margin.body_shear, or its end, as body_shear;
    of several loads the highest is meant. Each step names its formula, what was put in, source
    and range.
    """
    if source.preset is not None and source.spec is not None and quantity is None:
        source, quantity = Source(None, source.preset), source.spec
    spring = source.spring()
    if quantity is None:
        every = spring.explained_numbers()
        if as_json:
            rows = {leaf.path: float(leaf.value) for leaf in every.values()}
            click.echo(json.dumps(rows, indent=2, allow_nan=False))
        else:
            for line in listed(every.values(), reader()):
                click.echo(line)
        return 0
    found = spring.explain(quantity)
    if as_json:
        click.echo(found.json_text())
        return 0
    for line in found.lines(reader()):
        click.echo(line)
    click.echo(caution(CAUTIONS))
    return 0
