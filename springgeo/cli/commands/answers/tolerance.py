"""``springgeo tolerance``: how springs made to tolerances come out."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, get_args

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import json_option, language_option, reader
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.table import caution
from springgeo.cli.target import OutFile
from springgeo.cli.tolerated import lines
from springgeo.specification.tolerances import Adjusted, Distribution
from springgeo.text.shown import Language

# steps of a spring with two hooks of its own, for the length of the bar
_USUAL = 11


@click.command("tolerance")
@spec_argument
@click.option(
    "--hold",
    multiple=True,
    metavar="NAME=VALUE",
    help="A tolerance, such as wire_diameter='0.01 mm', coils=0.1, initial_tension='10 %', "
    "loads='5 %', or low..high; repeat for others [those of SPEC, or the trade's].",
)
@click.option("--share", metavar="PERCENT", help="Wanted inside: how wide may each tolerance be?")
@click.option(
    "--distribution",
    type=click.Choice(get_args(Distribution)),
    help="normal: the tolerance is three standard deviations; uniform [normal].",
)
@click.option("--grade", type=click.Choice(["1", "2", "3"]), help="Grade of DIN 2097 [2].")
@click.option(
    "--adjusts",
    type=click.Choice(get_args(Adjusted)),
    help="What the maker sets anew for each lot of wire, to meet the highest load [what SPEC "
    "leaves free, or none].",
)
@click.option("--springs", type=int, metavar="N", help="How many to draw [1048576].")
@click.option("--seed", default=1, show_default=True, metavar="N", help="Another one draws others.")
@click.option(
    "--plot",
    type=OutFile(".png", ".svg", ".pdf"),
    metavar="FILE",
    help="Also draw loads against their limits, and what costs most.",
)
@language_option
@json_option("the result")
def command(
    source: Source,
    hold: tuple[str, ...],
    springs: int | None,
    seed: int,
    plot: str | None,
    language: Language | None,
    as_json: bool,
    **asked: str | None,
) -> int:
    """Say how springs made to SPEC come out, whose dimensions stray.

    Draws a million springs by their tolerances: loads, rate and margins, the share within the
    limits of the loads, what costs most, how wide each tolerance may be.
    """
    spring = source.spring()
    values = {k: v for k, v in asked.items() if v is not None}
    values |= dict(_pair(text) for text in hold)
    with Progress(_USUAL) as progress:
        found = spring.tolerance(values, springs=springs, seed=seed, told=progress)
    if as_json:
        click.echo(found.json_text())
    shown = replace(reader(), language=language or spring.spec.language)
    if plot is not None:
        from springgeo.plots.tolerance import write_plot

        write_plot(found, plot, shown)
    if as_json:
        return 0
    for line in lines(found, shown):
        click.echo(line)
    click.echo(caution([shown.text(text) for text in found.cautions], shown))
    return 0


def _pair(text: str) -> tuple[str, Any]:
    name, equals, value = text.partition("=")
    if not equals or not name.strip() or not value.strip():
        raise click.UsageError(f"--hold: '{text[:60]}' is not NAME=VALUE, such as coils=0.1")
    return name.strip(), value.strip()
