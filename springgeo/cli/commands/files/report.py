"""``springgeo report``: one page about the spring, with a view to turn."""

from __future__ import annotations

import click
import numpy as np

from springgeo.cli.progress import Progress
from springgeo.cli.reader import asked, language_option
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.target import out_file
from springgeo.errors import SpecError, refused
from springgeo.text.shown import Language
from springgeo.units import split

# places of a slider by how many sliders there are
_PLACES = {1: 11, 2: 5, 3: 3}


@click.command("report")
@spec_argument
@out_file(".html", ".htm", default="spring.html", says="Ends in .html or .htm.")
@click.option(
    "--explore",
    multiple=True,
    metavar="KEY=LOW..HIGH",
    help="In place of the report a page to try out: a slider for a value, such as "
    "wire.diameter=1mm..1.4mm; up to three. LOW..HIGH:9 names how many places; a list A,B,C its "
    "values.",
)
@language_option
def command(
    source: Source,
    out: str,
    explore: tuple[str, ...],
    language: Language | None,
) -> int:
    """Write one HTML page about SPEC: 3-D view, diagrams, tables.

    The page opens in any browser, offline, and prints.
    """
    vary = dict(_varied(text, len(explore)) for text in explore)
    total = int(np.prod([len(v) for v in vary.values()])) if vary else 1
    with Progress(total) as say:
        spring = source.spring()
        if vary:
            file = spring.explore(out, vary, units=asked(), language=language, told=say)
        else:
            say("computing and drawing")
            file = spring.report(out, units=asked(), language=language)
    click.echo(f"wrote {out}: {file.stat().st_size / 1024:.0f} kB")
    return 0


def _varied(text: str, count: int) -> tuple[str, list[object]]:
    """Return a key and its values from ``key=low..high:n`` or ``key=a,b,c``; raises SpecError."""
    key, sign, values = text.partition("=")
    if not sign or not values.strip():
        raise _refused(text, "write KEY=LOW..HIGH, such as wire.diameter=1mm..1.4mm")
    low, dots, high = values.partition("..")
    if not dots:
        return key.strip(), [v.strip() for v in values.split(",")]
    high, colon, places = high.partition(":")
    if colon and not (places.strip().isdigit() and 2 <= int(places) <= 50):
        raise _refused(text, f"'{places[:20]}' is no number of places; give 2 to 50")
    number = int(places) if colon else _PLACES.get(count, 2)
    try:
        (a, unit_a), (b, unit_b) = split(low, "a number"), split(high, "a number")
    except ValueError as exc:
        raise _refused(text, str(exc)) from None
    if unit_a and unit_b and unit_a != unit_b:
        raise _refused(text, f"{unit_a} and {unit_b}: give both in one unit")
    unit = unit_b or unit_a
    steps = (float(f"{x:.6g}") for x in np.linspace(a, b, number))
    return key.strip(), [f"{x:g} {unit}".strip() for x in steps]


def _refused(text: str, why: str) -> SpecError:
    return refused("explore-values", "explore", f"'{text[:60]}': {why}")
