"""``springgeo watch``: check again whenever the file is saved."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from pathlib import Path

import click

from springgeo.cli import table
from springgeo.cli.reader import reader, units_option
from springgeo.cli.source import spring_from
from springgeo.cli.target import OutFile
from springgeo.errors import FileError, SpecError, SpringgeoError
from springgeo.optional import need
from springgeo.text.shown import Shown

# ms between looks where the system tells of no change; saves that come together count once
_STEP = 200


@click.command("watch")
@click.argument("spec", metavar="SPEC")
@click.option(
    "--report",
    "page",
    type=OutFile(".html", ".htm"),
    metavar="FILE",
    help="Also write the report each time; an open one shows the new state by itself.",
)
@click.option("--once", is_flag=True, help="Check once and leave.")
@units_option
def command(spec: str, page: str | None, once: bool) -> int:
    """Check SPEC on every save until interrupted.

    A file that is not there or not valid is said to be so, and watched on.
    """
    path = Path(spec)
    if not path.parent.is_dir():
        raise FileError(f"there is no folder '{path.parent}'")
    count = itertools.count(1)
    if once:
        look(path, page)
        return 0
    try:
        look(path, page, next(count))
        click.echo(f"watching {path}; Ctrl+C ends it", err=True)
        for _ in changes(path):
            click.echo("-" * 40)
            look(path, page, next(count))
    finally:
        if page is not None:
            _forget(Path(page))
    return 0


def _forget(page: Path) -> None:
    from springgeo.report.write import sign_of

    sign_of(page).unlink(missing_ok=True)


def look(path: Path, page: str | None, number: int | None = None) -> None:
    """Print the check of a file, or why there is none, and write its page.

    ``number`` of the page, where it is one of many.
    """
    try:
        spring = spring_from(str(path), None)
        for line in table.report(spring.summary(), reader()):
            click.echo(line)
        if page is not None:
            from springgeo.report import write

            write(spring, page, Shown(reader().units, spring.spec.language), number=number)
            click.echo(f"wrote {page}")
    except SpecError as exc:
        for f in exc.findings:
            click.echo(f"{f.severity}: {f.line(reader().text(f.message))}")
    except SpringgeoError as exc:
        click.echo(f"error: {exc}")


def changes(path: Path) -> Iterator[None]:
    """Yield once after each save of a file, also where it was replaced or is new."""
    watch = need("watchfiles", "watching a file", "live")
    wanted = path.resolve()
    seen = _stamp(wanted)
    for found in watch.watch(wanted.parent, step=_STEP, recursive=False, raise_interrupt=False):
        if not any(Path(name).name == wanted.name for _, name in found):
            continue
        # opened to be read, or written as it was: nothing new
        now = _stamp(wanted)
        if now != seen:
            seen = now
            yield


def _stamp(path: Path) -> tuple[int, int, int] | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino
