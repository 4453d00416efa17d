"""``springgeo overload``: what is left after it was pulled too far."""

from __future__ import annotations

from collections.abc import Iterator

import click

from springgeo.cli.source import spec_argument, spring_from
from springgeo.cli.table import caution, rows
from springgeo.results.overload import AtLimit, Overload
from springgeo.text.figures import figures, millimetres
from springgeo.units import parse


@click.command("overload")
@spec_argument
@click.option("--load", metavar="FORCE", help="The overload.")
@click.option("--length", metavar="LENGTH", help="In its place: drawn to this length inside hooks.")
@click.option(
    "--relieved",
    type=click.FloatRange(0, 1),
    default=1.0,
    show_default=True,
    metavar="SHARE",
    help="Share of coiling stress that heat treatment took away; 0: as coiled.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
def command(
    spec: str | None,
    preset: str | None,
    load: str | None,
    length: str | None,
    relieved: float,
    as_json: bool,
) -> int:
    """Estimate what an overload leaves of SPEC: length, hooks, initial tension.

    With no load, the load that costs 0.1 % of the length.
    """
    spring = spring_from(spec, preset)
    found = spring.overload(
        load=_quantity(load, "force", "--load"),
        length=_quantity(length, "length", "--length"),
        relieved=relieved,
    )
    if as_json:
        click.echo(found.json_text())
        return 0
    for line in report(found):
        click.echo(line)
    return 0


def report(o: Overload) -> Iterator[str]:
    """Yield the lines of the answer."""
    yield "overload and set (N, mm; from the least to the greatest published elastic limit)"
    sides = o.least, o.greatest
    table = [["", "from", "to"]]
    table.append(["elastic limit in tension, MPa", *(figures(s.tension) for s in sides)])
    table.append(["elastic limit in torsion, MPa", *(figures(s.torsion) for s in sides)])
    if o.load is not None or o.length is not None:
        for words, name in _ROWS:
            table.append([words, *(_cell(s, name) for s in sides)])
    cost = [("-" if s.costs is None else figures(s.costs.load)) for s in sides]
    table.append([f"load that costs {figures(o.costs_percent)} % of length", *cost])
    to = [("-" if s.costs is None else millimetres(s.costs.length)) for s in sides]
    table.append(["  drawn to", *to])
    yield from rows(table)
    yield f"elastic limits: {o.source} ({o.known})"
    yield from o.remarks
    yield caution(o.cautions)


_ROWS = (
    ("load", "load"),
    ("length under it", "length"),
    ("free length gained", "lengthened"),
    ("  per cent", "share_percent"),
    ("first hook opened by", "opened_a"),
    ("second hook opened by", "opened_b"),
    ("initial tension left", "initial_tension"),
)


def _cell(side: AtLimit, name: str) -> str:
    if side.set is None:
        return "yields through"
    value = getattr(side.set, name)
    if value is None:
        return "-"
    return figures(value, 3) if name not in {"load", "length"} else figures(value, 5)


def _quantity(text: str | None, kind: str, option: str) -> float | None:
    if text is None:
        return None
    try:
        return parse(text, kind)
    except ValueError as exc:
        raise click.UsageError(f"{option}: {exc}") from None
