"""``springgeo stress``: section forces and stress, station by station along the wire."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import click

from springgeo.cli.given import given
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.table import caution
from springgeo.cli.target import out_file
from springgeo.results.facts import CAUTIONS


@click.command("stress")
@spec_argument
@out_file(".csv", ".txt", default="stress.csv")
@click.option("--load", metavar="FORCE", help="Load; the highest of SPEC, or 1 N, if left out.")
def command(source: Source, out: str, load: str | None) -> int:
    """Write the stress along the wire of SPEC as CSV.

    Units: mm, N, N mm, MPa, deg. The first line, after a #, holds the cautions.
    """
    from springgeo.publish.atomic import atomic_write

    spring = source.spring()
    along = spring.stress(given(load, "force", "--load"))
    columns = along.columns()
    text = io.StringIO()
    # most readers of CSV pass over a line that starts so (comment="#")
    text.write(f"# {spring.summary().name[:80]!a}; mm, N, N mm, MPa, deg; {' '.join(CAUTIONS)}\n")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(zip(*(map(_cell, c.tolist()) for c in columns.values()), strict=True))
    atomic_write(Path(out), text.getvalue().encode("ascii"))
    click.echo(f"wrote {out}: {len(along)} stations")
    click.echo(caution(CAUTIONS))
    return 0


def _cell(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.9g}"
