"""How a command ends: what it warns of, and the code it leaves with."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import click

from springgeo.cli.reader import reader
from springgeo.summary.sections import Told

if TYPE_CHECKING:
    from springgeo.findings import Finding
    from springgeo.state import State


def warn(states: Iterable[State]) -> None:
    """Say of states beyond what the spring holds that they are."""
    for finding in (f for state in states for f in state.findings):
        click.echo(f"springgeo: {finding.severity}: {_line(finding)}", err=True)


def _line(finding: Finding) -> str:
    return finding.line(reader().text(finding.message))


def exit_code(summary: Told, strict: bool) -> int:
    """Return the exit code: 1 for any warning or failed check under ``--strict``."""
    bad = any(f.severity != "note" for f in summary.findings) or any(
        not c.ok for c in summary.checks
    )
    return 1 if strict and bad else 0
