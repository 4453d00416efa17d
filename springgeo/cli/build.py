"""``springgeo build``: the main job."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from springgeo.cli import table
from springgeo.cli.source import spec_argument, spring_from
from springgeo.summary import Summary


@click.command("build")
@spec_argument
@click.option(
    "-o",
    "--out",
    default="springgeo-out",
    show_default=True,
    metavar="DIR",
    help="Folder for the files; made if missing.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the summary as JSON.")
@click.option("--strict", is_flag=True, help="Leave with 1 if any warning was found.")
@click.option("--no-overwrite", is_flag=True, help="Refuse to replace files.")
def command(
    spec: str | None, preset: str | None, out: str, as_json: bool, strict: bool, no_overwrite: bool
) -> int:
    """Build SPEC: write STEP, STL and summary JSON, checked; without SPEC, an example."""
    from springgeo.export.bundle import export_bundle

    spring = spring_from(spec, preset)
    spring.summary()  # every finding about the specification comes before any kernel work
    bundle = export_bundle(spring.model, Path(out), overwrite=not no_overwrite, say=_say)
    if as_json:
        click.echo(bundle.summary.json_text())
    else:
        for line in table.report(bundle.summary):
            click.echo(line)
        click.echo("files:")
        for path in bundle.files:
            click.echo(f"  {path} ({path.stat().st_size / 1024:.0f} kB)")
    return verdict(bundle.summary, strict)


def verdict(summary: Summary, strict: bool) -> int:
    """Return the exit code: 1 for any warning or failed check under ``--strict``."""
    bad = any(f.severity != "note" for f in summary.findings) or any(
        not c.ok for c in summary.checks
    )
    return 1 if strict and bad else 0


def _say(text: str) -> None:
    if sys.stderr.isatty():
        click.echo(f"  ... {text}", err=True)
