"""``springgeo assembly``: the spring on its mating parts as one STEP file."""

from __future__ import annotations

from pathlib import Path

import click

from springgeo.cli.reader import reader
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.table import caution
from springgeo.cli.target import out_file
from springgeo.cli.verdict import warn
from springgeo.results.facts import CAUTIONS


@click.command("assembly")
@spec_argument
@out_file(
    ".step",
    ".stp",
    default="assembly.step",
    says="STEP file; with several states, the state goes into its name.",
)
@click.option(
    "--state",
    "states",
    multiple=True,
    metavar="STATE",
    help="free, a load (25N) or a length (60mm); repeat for several. [free]",
)
def command(source: Source, out: str, states: tuple[str, ...]) -> int:
    """Write SPEC on its mating parts as one STEP file.

    Named, coloured parts with mate frames. The mating parts are those of the specification,
    placed where the pull holds them in the state asked for; pins out of line or askew, ends held
    and the wire's own weight count.
    """
    target = Path(out)
    spring = source.spring()
    placed = spring.named_states(states or ("free",), as_mounted=True)
    warn(placed)
    from springgeo.cad import write_assembly
    from springgeo.files.publish.naming import suffix

    shown = reader()
    for state in placed:
        several = f"{target.stem}-{suffix(state.name)}{target.suffix}"
        name = target.name if len(placed) == 1 else several
        file = write_assembly(target.with_name(name), spring, state)
        click.echo(f"{file}: {shown.length(state.length)} inside hooks, {shown.force(state.load)}")
    click.echo(caution(CAUTIONS))
    return 0
