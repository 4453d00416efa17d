"""``springgeo schema``: the JSON Schema of a specification, for editors."""

from __future__ import annotations

import json

import click

from springgeo.spring.schema import specification_schema


@click.command("schema")
def command() -> int:
    """Print the JSON Schema of a specification, installed end styles included."""
    click.echo(json.dumps(specification_schema(), indent=2, sort_keys=True))
    return 0
