"""``springgeo family``: many springs from one table."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click


@click.command("family")
@click.argument("table", metavar="TABLE")
@click.option(
    "-o",
    "--out",
    default="springgeo-family",
    show_default=True,
    metavar="DIR",
    help="Folder for the members and the manifest; made if missing.",
)
@click.option(
    "--jobs", default=1, show_default=True, type=click.IntRange(1, 256), help="Processes at a time."
)
@click.option("--summary-only", is_flag=True, help="Write summaries, without STEP and STL.")
def command(table: str, out: str, jobs: int, summary_only: bool) -> int:  # fmt: skip
    """Build every spring of a table.

    TABLE is a CSV with dotted keys, or a YAML with a base and what varies. A run that was stopped
    is taken up again. Leaves with 1 if a member could not be built.
    """
    from springgeo.family import build_family, read_family

    members = read_family(table, whole=not summary_only)
    outcome = build_family(members, Path(out), jobs, _say)
    built = len(outcome.records) - len(outcome.failures)
    click.echo(f"{built} of {len(members)} built, {outcome.skipped} of them before; "
               f"manifest: {Path(out) / 'manifest.json'}")  # fmt: skip
    for r in outcome.failures:
        for text in r.errors:
            click.echo(f"springgeo: row {r.row} '{r.name}': {text}", err=True)
    return 1 if outcome.failures else 0


def _say(record: Any) -> None:
    if sys.stderr.isatty():
        click.echo(f"  ... {record.name}: {record.status}", err=True)
