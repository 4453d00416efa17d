"""``springgeo ends``: the end styles that can be used, and their parameters."""

from __future__ import annotations

import json

import click

from springgeo.ends import registry


@click.command("ends")
@click.option("--json", "as_json", is_flag=True, help="Print as JSON.")
def command(as_json: bool) -> int:
    """List every end style, plug-ins included."""
    styles = registry.styles().values()
    if as_json:
        click.echo(
            json.dumps(
                {
                    "schema_version": "springgeo-ends/1",
                    "ends": [
                        {
                            "style": s.name,
                            "title": s.title,
                            "summary": s.summary,
                            "holds_load": s.holds_load,
                            "parameters": s.parameters.model_json_schema(),
                        }
                        for s in styles
                    ],
                    "findings": [f.model_dump() for f in registry.skipped()],
                },
                indent=2,
            )
        )
        return 0
    for style in styles:
        click.echo(f"{style.name}: {style.title}\n  {style.summary}")
        names = ", ".join(style.parameters.model_fields) or "none"
        click.echo(f"  parameters: {names}")
        click.echo("\n".join("    " + line for line in style.sketch.splitlines()) + "\n")
    for finding in registry.skipped():
        click.echo(f"{finding.severity}: {finding.line()}", err=True)
    return 0
