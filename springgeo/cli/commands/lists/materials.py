"""``springgeo materials``: the wire materials, and their values at a diameter."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, TypedDict

import click

from springgeo import materials
from springgeo.cli import table
from springgeo.cli.given import given
from springgeo.cli.reader import json_option, reader, units_option
from springgeo.errors import SpecError
from springgeo.materials.coverage import holes, sources
from springgeo.text.quantity import Quantity

if TYPE_CHECKING:
    from springgeo.materials import Material


@click.command("materials")
@units_option
@click.option("--diameter", metavar="LENGTH", help="Show strengths and moduli at this diameter.")
@json_option()
def command(diameter: str | None, as_json: bool) -> int:
    """List the wire materials; strengths are the standard's minimum."""
    facts = [_facts(materials.get(name), _diameter(diameter)) for name in materials.names()]
    if as_json:
        click.echo(json.dumps(_document(facts), indent=2))
        return 0
    shown = reader()
    stress, length = shown.unit("stress"), shown.unit("length")
    head = ["material", *(f"{x} {stress}" for x in ("Rm min", "G", "E"))]
    head += [shown.unit("density"), f"max {shown.unit('temperature')}", f"sizes {length}", "known"]
    for line in table.rows([head, *map(_row, facts)], indent=""):
        click.echo(line)
    for line in _not_known(facts):
        click.echo(line)
    if diameter is None:
        click.echo("strengths and moduli depend on the size: give --diameter, such as 1.2mm")
    return 0


class _Facts(TypedDict):
    id: str
    title: str
    standard: str
    also_called: list[str]
    density: float
    temperature_limit: float | None
    diameter_low: float | None
    diameter_high: float | None
    relative_cost: float | None
    tensile_minimum: float | None
    tensile_maximum: float | None
    shear_modulus: float | None
    elastic_modulus: float | None
    source: str
    known: str
    notes: list[str]
    not_known: Mapping[str, str]
    sources: Mapping[str, Mapping[str, str]]


def _document(facts: list[_Facts]) -> dict[str, object]:
    units = "mm, MPa, g/cm3, degC"
    return {"schema_version": "springgeo-materials/1", "units": units, "materials": facts}


def _diameter(text: str | None) -> float | None:
    value = given(text, "length", "--diameter")
    if value is not None and not value > 0:
        raise click.UsageError(f"--diameter: {value:g} mm must be above zero")
    return value


def _facts(m: Material, d: float | None) -> _Facts:
    low, high = m.diameter_range
    facts: _Facts = {
        "id": m.id,
        "title": m.title,
        "standard": m.standard,
        "also_called": list(m.aliases),
        "density": 1e6 * m.density,
        "temperature_limit": m.temperature_limit,
        "diameter_low": _finite(low),
        "diameter_high": _finite(high),
        "relative_cost": m.relative_cost,
        "tensile_minimum": None,
        "tensile_maximum": None,
        "shear_modulus": None,
        "elastic_modulus": None,
        "source": "",
        "known": "",
        "notes": [],
        "not_known": holes(m),
        "sources": sources(m),
    }
    if d is None:
        return facts
    try:
        strength = m.tensile(d)
    except SpecError as exc:
        return {**facts, "notes": [f.message for f in exc.findings]}
    return {
        **facts,
        "tensile_minimum": strength.minimum,
        "tensile_maximum": strength.maximum,
        "shear_modulus": float(m.shear_modulus(d)),
        "elastic_modulus": float(m.elastic_modulus(d)),
        "source": strength.source,
        "known": strength.known,
        "notes": [f.message for f in m.caveats(d)],
    }


def _not_known(facts: list[_Facts]) -> Iterator[str]:
    """Yield a line for each subject that is a hole in the data, with the materials it is one of."""
    found: dict[tuple[str, str], list[str]] = {}
    for f in facts:
        for subject, words in f["not_known"].items():
            found.setdefault((subject, words), []).append(f["id"])
    for (subject, words), names in found.items():
        who = "every material" if len(names) == len(facts) else ", ".join(names)
        yield f"not known: {subject} of {who} ({words})"


def _row(f: _Facts) -> list[str]:
    def number(value: float | None, kind: str, places: int) -> str:
        return "-" if value is None else reader().value(Quantity(kind, value, places=places))

    return [
        f["id"],
        number(f["tensile_minimum"], "stress", 0),
        number(f["shear_modulus"], "stress", 0),
        number(f["elastic_modulus"], "stress", 0),
        number(f["density"], "density", 2),
        number(f["temperature_limit"], "temperature", 0),
        _sizes(f),
        f["known"] or "-",
    ]


def _sizes(f: _Facts) -> str:
    low, high = f["diameter_low"], f["diameter_high"]
    if low is None or high is None:
        return "-"
    return "-".join(reader().value(Quantity("length", x, 3)) for x in (low, high))


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None
