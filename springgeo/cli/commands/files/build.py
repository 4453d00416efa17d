"""``springgeo build``: the main job."""

from __future__ import annotations

import click

from springgeo.cli import table
from springgeo.cli.given import given
from springgeo.cli.progress import Progress
from springgeo.cli.reader import json_option, reader, strict_option
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.target import out_folder
from springgeo.cli.verdict import exit_code, warn
from springgeo.elements import KINDS, Elements, Kind
from springgeo.files.publish import registry
from springgeo.files.publish.detail import DETAILS, Detail
from springgeo.files.publish.naming import DEFAULT_FORMATS
from springgeo.summary import Summary


def _formats(
    _ctx: click.Context, _param: click.Parameter, value: tuple[str, ...]
) -> tuple[str, ...]:
    """Return the formats of every option; one may name several: ``step,stl``."""
    words = [w.strip().lower().removeprefix(".") for text in value for w in text.split(",")]
    return tuple(w for w in words if w)


@click.command("build")
@spec_argument
@out_folder("springgeo-out", says="Folder for the files; made if missing.")
@click.option(
    "--format",
    "formats",
    multiple=True,
    callback=_formats,
    metavar="NAME,...",
    help="File formats, such as step,stl. step, stl, 3mf, glb, obj, ply, brep; of finite "
    "elements inp, vtu, msh [step, stl]; the summary as JSON is always written.",
)
@click.option(
    "--state",
    "states",
    multiple=True,
    metavar="STATE",
    help="free, a load (25N) or a length (60mm); repeat for several. Adds manifest.json.",
)
@click.option(
    "--detail",
    type=click.Choice(DETAILS),
    default="exact",
    show_default=True,
    help="Fewer triangles, or only the space taken up.",
)
@click.option(
    "--elements",
    "kind",
    type=click.Choice(KINDS),
    help="Finite elements: hexahedra of 20 or 8 nodes, or beams [hex20].",
)
@click.option(
    "--element-size", "size", metavar="LENGTH", help="Of an element across the wire [d/6.5]."
)
@json_option("the summary")
@strict_option
@click.option("--no-overwrite", is_flag=True, help="Refuse to replace files.")
def command(
    source: Source,
    out: str,
    formats: tuple[str, ...],
    states: tuple[str, ...],
    detail: Detail,
    kind: Kind | None,
    size: str | None,
    as_json: bool,
    strict: bool,
    no_overwrite: bool,
) -> int:
    """Build SPEC, or an example: STEP, STL and JSON, checked."""
    elements = _elements(kind, size, formats)
    spring = source.spring(example=True)
    spring.summary()  # every finding about the specification comes before any kernel work
    wanted, shown = formats or DEFAULT_FORMATS, spring.named_states(states)
    warn(shown)
    # the solid, and every file
    with Progress(1 + len(wanted) * max(1, len(shown))) as say:
        bundle = spring.build(
            out,
            formats=wanted,
            states=shown,
            detail=detail,
            elements=elements,
            overwrite=not no_overwrite,
            told=say,
        )
    exact = [f.suffix[1:] for f in bundle.files if f.suffix in (".step", ".brep")]
    if detail == "light" and exact:
        click.echo(
            f"springgeo: note: {exact[0]} has no triangles: it holds the exact solid", err=True
        )
    if any(f.suffix == ".inp" for f in bundle.files):
        _say_of_deck(bundle.summary)
    if as_json:
        click.echo(bundle.summary.json_text())
    else:
        for line in table.report(bundle.summary, reader()):
            click.echo(line)
        click.echo("files:")
        for path in bundle.files:
            click.echo(f"  {path} ({path.stat().st_size / 1024:.0f} kB)")
    return exit_code(bundle.summary, strict)


def _elements(kind: Kind | None, size: str | None, formats: tuple[str, ...]) -> Elements:
    if (kind or size) and not any(registry.get(name).elements for name in formats):
        option = "--elements" if kind else "--element-size"
        raise click.UsageError(
            f"{option}: no format with finite elements is asked for; add --format inp, vtu or msh"
        )
    return Elements(kind or "hex20", given(size, "length", "--element-size"))


def _say_of_deck(summary: Summary) -> None:
    """Say what a deck leaves out, where it matters."""
    words = []
    if float(summary.initial_tension.force):
        words.append("coils do not touch and have no initial tension: it answers for parted coils")
    if summary.parts:
        words.append("fittings are taken as rigid, not meshed")
    if words:
        click.echo(f"springgeo: note: in the deck {'; '.join(words)}", err=True)
