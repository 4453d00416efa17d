"""``springgeo ends``: the end styles that can be used, their parameters, and how they compare."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from springgeo.cli.reader import json_option, reader, units_option
from springgeo.cli.target import OutFile
from springgeo.ends import registry
from springgeo.ends.protocol import EndStyle
from springgeo.results.place import KINDS
from springgeo.text.quantity import Quantity
from springgeo.text.shown import Shown

if TYPE_CHECKING:
    from springgeo.summary.ends_compared import EndFacts


@units_option
@click.command("ends", short_help="List every end style, draw one, or compare them on a spring.")
@click.argument("style", required=False)
@click.option("--compare", metavar="SPEC", help="Compare all styles on the body of SPEC.")
@click.option(
    "--picture",
    type=OutFile(".svg"),
    metavar="FILE",
    help="Draw STYLE as SVG, with r1, r2, LH, m, contact and the points A and B marked.",
)
@json_option()
def command(style: str | None, compare: str | None, picture: str | None, as_json: bool) -> int:
    """List every end style, plug-ins included, or STYLE alone.

    With --compare, measure them on one body.
    """
    if picture is not None and style is None:
        raise click.UsageError("--picture draws one style: name it, springgeo ends STYLE")
    if style is not None:
        found = registry.get(style)
        if picture is not None:
            _draw(found.name, picture)
        elif as_json:
            _list_json([found])
        else:
            _list([found])
    elif compare is not None:
        _compare(compare, as_json)
    elif as_json:
        _list_json(registry.styles().values())
    else:
        _list(registry.styles().values())
    return 0


def _draw(style: str, path: str) -> None:
    from springgeo.plots.end_drawing import end_drawing
    from springgeo.publish.atomic import atomic_write

    shown = replace(reader(), typeset=True)
    atomic_write(Path(path), end_drawing(style, shown=shown).encode("utf-8"))
    click.echo(f"wrote {path}")


def _list(styles: Iterable[EndStyle]) -> None:
    for style in styles:
        click.echo(f"{style.name}: {style.title}\n  {style.summary}")
        names = ", ".join(style.parameters.model_fields) or "none"
        click.echo(f"  parameters: {names}")
        if style.usual is not None:
            usual = f"{style.usual.low:g} to {style.usual.high:g} inside diameters"
            click.echo(f"  usual hook length: {usual} ({style.usual.source})")
        click.echo("\n".join("    " + line for line in style.sketch.splitlines()) + "\n")
    for finding in registry.skipped():
        click.echo(f"{finding.severity}: {finding.line()}", err=True)


def _list_json(styles: Iterable[EndStyle]) -> None:
    ends = [
        {
            "style": s.name,
            "title": s.title,
            "summary": s.summary,
            "holds_load": s.holds_load,
            "usual_hook_length": None if s.usual is None else asdict(s.usual),
            "parameters": s.parameters.model_json_schema(),
        }
        for s in styles
    ]
    findings = [f.model_dump() for f in registry.skipped()]
    click.echo(
        json.dumps(
            {"schema_version": "springgeo-ends/1", "ends": ends, "findings": findings}, indent=2
        )
    )


def _compare(spec: str, as_json: bool) -> None:
    from springgeo.cli import table
    from springgeo.cli.source import spring_from
    from springgeo.summary.ends_compared import EndFacts, compare_ends

    spring = spring_from(spec, None)
    facts, unfit = compare_ends(spring.model)
    if as_json:
        # every entry has the same keys
        nothing = {**dict.fromkeys(EndFacts.model_fields), "governing": "", "needs": ""}
        ends = [{**f.model_dump(), "problem": ""} for f in facts]
        ends += [{**nothing, **f.model_dump()} for f in unfit]
        click.echo(
            json.dumps(
                {
                    "schema_version": "springgeo-ends-compared/1",
                    "units": "mm, N, MPa, N/mm",
                    "ends": ends,
                },
                indent=2,
            )
        )
        return
    per = "newton" if reader().units == "mm" else "pound-force"
    click.echo(
        f"{spring.spec.name}: the same style at both ends, default proportions; stress "
        f"along the wire per {per}, best first"
    )
    for line in table.rows([_head(reader()), *(_row(f, reader()) for f in facts)]):
        click.echo(line)
    if any(f.needs for f in facts):
        click.echo("the part that an end needs is not judged: prove strength and pull-out by test")
    for u in unfit:
        click.echo(f"  {u.style} does not fit: {u.problem}")


def _head(shown: Shown) -> list[str]:
    length, per = shown.unit("length"), shown.unit("stress per load")
    return [
        "",
        *(f"{words} {length}" for words in ("hook", "r1", "r2", "L0")),
        f"rate {shown.unit('rate')}",
        "hooks' give %",
        *(f"{words} {per}" for words in ("bending", "torsion", "vM")),
        f"holds {shown.unit('force')}",
        "least margin at",
        "needs",
    ]


def _row(f: EndFacts, shown: Shown) -> list[str]:
    def number(kind: str, value: float | None, digits: int = 4) -> str:
        return "-" if value is None else shown.value(Quantity(kind, value, digits))

    return [
        f.style,
        number("length", f.hook_length),
        number("length", f.loop_radius),
        number("length", f.bend_radius),
        number("length", f.free_length, 5),
        number("rate", f.rate),
        f"{f.compliance_share_percent:.1f}",
        number("stress per load", f.bending_a),
        number("stress per load", f.shear_b),
        number("stress per load", f.von_mises),
        number("force", f.margin_per_newton),
        KINDS[f.governing],
        f.needs,
    ]
