"""``springgeo family``: many springs from one table."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from springgeo.cli.progress import line
from springgeo.cli.reader import asked, units_option
from springgeo.cli.table import caution
from springgeo.cli.target import out_folder
from springgeo.results.facts import CAUTIONS

if TYPE_CHECKING:
    from springgeo.family.member import Record


@click.command("family")
@click.argument("table", metavar="TABLE")
@out_folder("springgeo-family", says="Folder for the members and the manifest; made if missing.")
@click.option(
    "--jobs",
    type=click.IntRange(1, 4096),
    help="Springs at a time; every core, or every worker of a cluster, if left out.",
)
@units_option
@click.option("--summary-only", is_flag=True, help="Write summaries, without STEP and STL.")
@click.option(
    "--backend",
    type=click.Choice(["local", "dask", "ray"]),
    default="local",
    show_default=True,
    help="This machine, or a cluster that runs already.",
)
@click.option(
    "--cluster",
    metavar="ADDRESS",
    help="Of the Dask scheduler (tcp://HOST:8786) or the Ray head (HOST:6379, ray://HOST:10001).",
)
def command(
    table: str,
    out: str,
    jobs: int | None,
    summary_only: bool,
    backend: str,
    cluster: str | None,
) -> int:
    """Build every spring of a table.

    TABLE is a CSV or Parquet file whose columns are dotted keys (name, wire.diameter,
    body.coils, ends.first.style, ...), or a YAML grid: base, a specification, and vary, lists of
    values by dotted key. A run that was stopped is taken up again. The folder on a cluster must
    be one that all workers share. Leaves with 1 if a member could not be built.
    """
    from springgeo.family import build_family, read_family

    members = read_family(table, whole=not summary_only, units=asked())
    say = _Progress(len(members)) if sys.stderr.isatty() else _silent
    outcome = build_family(members, Path(out), jobs, say, backend=backend, cluster=cluster)
    built = len(outcome.records) - len(outcome.failures)
    click.echo(
        f"{built} of {len(members)} built, {outcome.skipped} of them before; "
        f"manifest: {Path(out) / 'manifest.json'}"
    )
    for r in outcome.failures[:SHOWN]:
        for text in r.errors:
            click.echo(f"springgeo: row {r.row} '{r.name}': {text}", err=True)
    click.echo(caution(CAUTIONS))
    if more := len(outcome.failures[SHOWN:]):
        click.echo(f"springgeo: {more} more failed; the manifest lists them all", err=True)
    return 1 if outcome.failures else 0


# failures told on the terminal
SHOWN = 20


def _silent(_record: Record) -> None:
    """Say nothing: nobody watches."""


class _Progress:
    """Counts on one line of a terminal."""

    def __init__(self, total: int) -> None:
        self.total, self.done, self.failed = total, 0, 0

    def __call__(self, record: Record) -> None:
        self.done += 1
        self.failed += record.status != "built"
        bad = f", {self.failed} failed" if self.failed else ""
        line(f"{self.done} of {self.total}{bad}: {record.name[:50]}")
        if self.done == self.total:
            line("")
