"""``springgeo compare``: springs in columns."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import json_option, language_option, reader, units_option
from springgeo.cli.rows import rows
from springgeo.cli.source import spring_from
from springgeo.cli.target import out_file
from springgeo.text.shown import Language, Shown

if TYPE_CHECKING:
    from springgeo.api import Spring
    from springgeo.comparing import Comparison


@click.command("compare")
@click.argument("specs", nargs=-1, metavar="SPEC...")
@click.option("--preset", "presets", multiple=True, metavar="NAME", help="An embedded example too.")
@out_file(".html", ".htm", says="Also write a page, with curves and shapes overlaid.")
@click.option("--all", "everything", is_flag=True, help="Print also what is alike.")
@json_option()
@units_option
@language_option
def command(
    specs: tuple[str, ...],
    presets: tuple[str, ...],
    out: str | None,
    everything: bool,
    as_json: bool,
    language: Language | None,
) -> int:
    """Set springs side by side, marked where they differ.

    What is alike in all is left out of the terminal's table.
    """
    from springgeo.comparing import compare

    with Progress(len(specs) + len(presets) + 1) as say:
        springs = dict(_named(specs, presets, say))
        say("comparing")
        found = compare(springs)
        if out is not None:
            _write(found, out, language)
    if as_json:
        click.echo(found.json_text(), nl=False)
        return 0
    for line in _lines(found, everything, reader()):
        click.echo(line)
    if out is not None:
        click.echo(f"wrote {out}: {Path(out).stat().st_size / 1024:.0f} kB")
    return 0


def _named(
    specs: tuple[str, ...], presets: tuple[str, ...], say: Progress
) -> Iterator[tuple[str, Spring]]:
    """Yield the springs under the names of their files, numbered where these are the same."""
    every = [*((Path(s).stem, s, None) for s in specs), *((p, None, p) for p in presets)]
    count, seen = Counter(name for name, _, _ in every), Counter[str]()
    for name, spec, preset in every:
        say(name)
        seen[name] += 1
        label = f"{name} ({seen[name]})" if count[name] > 1 else name
        yield label, spring_from(spec, preset)


def _write(found: Comparison, out: str, language: Language | None) -> None:
    from springgeo.comparing.page import page
    from springgeo.publish.atomic import atomic_write

    shown = Shown(reader().units, language or found.springs[0].spec.language)
    atomic_write(Path(out), page(found, shown).encode("utf-8"))


def _lines(found: Comparison, everything: bool, shown: Shown) -> Iterator[str]:
    yield "≠ marks what differs; keys of the specifications first, in their bare units"
    kept = [r for r in found.rows if everything or r.differs]
    if not kept:
        yield "the springs are alike"
        return
    table = [["", *found.names]]
    for r in kept:
        unit = f", {shown.unit(r.kind)}" if r.kind and shown.unit(r.kind) else ""
        mark = "≠" if r.differs else " "
        table.append([f"{mark} {shown.text(r.words)}{unit}", *r.shown(shown)])
    yield from rows(table)
