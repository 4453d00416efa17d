"""``springgeo ends``: the end styles that can be used, their parameters, and how they compare."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING

import click

from springgeo.ends import registry
from springgeo.results.place import KINDS

if TYPE_CHECKING:
    from springgeo.summary.compare import EndFacts


@click.command("ends", short_help="List every end style, or compare them on a spring.")
@click.option("--compare", metavar="SPEC", help="Compare all styles on the body of SPEC.")
@click.option("--json", "as_json", is_flag=True, help="Print as JSON.")
def command(compare: str | None, as_json: bool) -> int:
    """List every end style, plug-ins included; with --compare, measure them on one body."""
    if compare is not None:
        _compare(compare, as_json)
    elif as_json:
        _list_json()
    else:
        _list()
    return 0


def _list() -> None:
    for style in registry.styles().values():
        click.echo(f"{style.name}: {style.title}\n  {style.summary}")
        names = ", ".join(style.parameters.model_fields) or "none"
        click.echo(f"  parameters: {names}")
        if style.usual is not None:
            usual = f"{style.usual.low:g} to {style.usual.high:g} inside diameters"
            click.echo(f"  usual hook length: {usual} ({style.usual.source})")
        click.echo("\n".join("    " + line for line in style.sketch.splitlines()) + "\n")
    for finding in registry.skipped():
        click.echo(f"{finding.severity}: {finding.line()}", err=True)


def _list_json() -> None:
    ends = [
        {
            "style": s.name,
            "title": s.title,
            "summary": s.summary,
            "holds_load": s.holds_load,
            "usual_hook_length": None if s.usual is None else asdict(s.usual),
            "parameters": s.parameters.model_json_schema(),
        }
        for s in registry.styles().values()
    ]
    findings = [f.model_dump() for f in registry.skipped()]
    click.echo(
        json.dumps(
            {"schema_version": "springgeo-ends/1", "ends": ends, "findings": findings}, indent=2
        )
    )


def _compare(spec: str, as_json: bool) -> None:
    from springgeo.api import Spring
    from springgeo.cli import table
    from springgeo.summary.compare import compare_ends

    spring = Spring.from_file(spec)
    facts = compare_ends(spring.model)
    if as_json:
        click.echo(
            json.dumps(
                {
                    "schema_version": "springgeo-ends-compared/1",
                    "ends": [f.model_dump() for f in facts],
                },
                indent=2,
            )
        )
        return
    click.echo(
        f"{spring.spec.name}: the same style at both ends, default proportions; stress "
        "along the wire per newton, best first"
    )
    for line in table.rows([_HEAD, *(_row(f) for f in facts if not f.problem)]):
        click.echo(line)
    if any(f.needs for f in facts):
        click.echo("the part that an end needs is not judged: prove strength and pull-out by test")
    for f in facts:
        if f.problem:
            click.echo(f"  {f.style} does not fit: {f.problem}")


_HEAD = [
    "",
    "hook mm",
    "r1 mm",
    "r2 mm",
    "L0 mm",
    "rate N/mm",
    "hooks' give %",
    "bending MPa/N",
    "torsion MPa/N",
    "vM MPa/N",
    "holds N",
    "least margin at",
    "needs",
]


def _row(f: EndFacts) -> list[str]:
    def number(value: float | None, form: str) -> str:
        return "-" if value is None else format(value, form)

    return [
        f.style,
        number(f.hook_length, ".4g"),
        number(f.loop_radius, ".4g"),
        number(f.bend_radius, ".4g"),
        number(f.free_length, ".5g"),
        number(f.rate, ".4g"),
        number(f.compliance_share_percent, ".1f"),
        number(f.bending_a, ".4g"),
        number(f.shear_b, ".4g"),
        number(f.von_mises, ".4g"),
        number(f.margin_per_newton, ".4g"),
        KINDS.get(f.governing, "-"),
        f.needs,
    ]
