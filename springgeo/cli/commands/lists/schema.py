"""``springgeo schema``: the JSON Schema of a specification, or of the summary."""

from __future__ import annotations

import json

import click

from springgeo.spring.json_schema import specification_schema


@click.command("schema")
@click.option("--summary", is_flag=True, help="The schema of what --json prints instead.")
def command(summary: bool) -> int:
    """Print the JSON Schema of a specification, for editors.

    Installed end styles are included.
    """
    click.echo(
        json.dumps(_summary() if summary else specification_schema(), indent=2, sort_keys=True)
    )
    return 0


def _summary() -> dict[str, object]:
    from springgeo.summary import Summary

    return Summary.model_json_schema()
