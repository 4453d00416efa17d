"""``springgeo fit``: the spring on its pins, plates and studs, over its stroke."""

from __future__ import annotations

from collections.abc import Iterator

import click

from springgeo.cli.reader import json_option, reader
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.table import findings, rows
from springgeo.cli.target import OutFile
from springgeo.fit.advice import point_words
from springgeo.fit.model import EndFit, FitReport
from springgeo.text import quantity as q
from springgeo.text.shown import Shown

# share of the pull, and N mm, below which a pin is said to bear the pull alone
LEAST = 1e-4


@click.command("fit")
@spec_argument
@json_option("the report")
@click.option(
    "--states",
    default=9,
    show_default=True,
    metavar="N",
    help="States between free length and the end of the stroke.",
)
@click.option(
    "--plot",
    type=OutFile(".png", ".svg", ".pdf"),
    metavar="FILE",
    help="Also draw the clearances over the stroke: .png, .svg or .pdf.",
)
@click.option("--strict", is_flag=True, help="Leave with 1 if anything does not fit.")
def command(
    source: Source,
    as_json: bool,
    states: int,
    plot: str | None,
    strict: bool,
) -> int:
    """Check how SPEC fits its mating parts over its stroke.

    Units: mm, N, deg; in, lbf with --units inch.
    """
    from springgeo.fit.plot import write_plot
    from springgeo.fit.stroke import fit

    report = fit(source.spring(), states=states)
    if plot is not None:
        write_plot(report, plot, reader())
    if as_json:
        click.echo(report.json_text())
    else:
        for line in _lines(report):
            click.echo(line)
    return 1 if strict and not report.ok else 0


def _lines(report: FitReport) -> Iterator[str]:
    shown = reader()
    yield f"{report.name}: {shown.text(report.verdict)}"
    yield from rows(report.table(shown))
    near = report.nearest
    if near is not None:
        state, pair, gap = near
        yield (
            f"nearest: {pair} {shown.length(gap.distance, places=3)} at "
            f"{shown.length(state.length, places=2)}, in {gap.label} near "
            f"{shown.text(point_words(gap.point))}"
        )
    yield from _pins(report, shown)
    if report.states:
        for name, end in (("first", report.states[0].first), ("second", report.states[0].second)):
            if end is not None:
                yield _end(name, end, shown)
    yield from findings(report.findings, shown)


def _pins(report: FitReport, shown: Shown) -> Iterator[str]:
    """Yield what the pins bear beside the straight pull, where that is most; nothing if nothing."""
    for name, side in (("first", "first"), ("second", "second")):
        loads = [
            (getattr(s.pins, side), s) for s in report.states if s.pins is not None and s.load != 0
        ]
        if not any(p.side > LEAST * abs(s.load) or p.turn > LEAST for p, s in loads):
            continue
        most, at = max(loads, key=lambda x: x[0].side)
        turned, there = max(loads, key=lambda x: x[0].turn)
        text = (
            f"pin of the {name} end: side force up to {shown.force(most.side, 3)} at "
            f"{shown.length(at.length, places=2)}"
        )
        if turned.turn > LEAST:
            turn = shown.quantity(q.Quantity("torque", turned.turn, 3))
            text += f", moment up to {turn} at {shown.length(there.length, places=2)}"
        yield text


def _end(name: str, e: EndFit, shown: Shown) -> str:
    mouth = shown.length(e.mouth, 3)
    text = f"{name} end on its {e.part}: mouth {mouth}, goes on: {e.entry}, hold: {e.hold}"
    if e.margin is not None:
        what = "to spare" if e.margin > 0 else "of play too much"
        text += f" ({shown.length(abs(e.margin), 3)} {what})"
    for words, pair in (("in plane", e.swing_in_plane), ("across", e.swing_across)):
        if pair is not None:
            text += f", swing {words} -{pair[0]:.0f}/+{pair[1]:.0f} deg"
    return text + f", side room {shown.length(e.side_room, 3)}"
