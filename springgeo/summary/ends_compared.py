"""Compares ends: every registered style, with its default parameters, on one body."""

from __future__ import annotations

from springgeo.curve import hook_approach
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle
from springgeo.errors import SpecError
from springgeo.results.facts import Facts
from springgeo.spring.geometry import assemble
from springgeo.spring.model import SpringModel
from springgeo.statics import analyse
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import PLACES, contacts_of, deciding


class EndFacts(Facts):
    """One style at both ends of the body: mm, N/mm, MPa per N along the wire.

    ``margin_per_newton`` is the least allowable over stress for a load of 1 N: the larger, the
    more the spring holds. ``needs`` names the part that a fitted end holds, whose own strength is
    not judged. A loop or a bend that the style does not have is None.
    """

    style: str
    title: str
    hook_length: float
    loop_radius: float | None
    bend_radius: float | None
    free_length: float
    wire_length: float
    rate: float
    compliance_share_percent: float
    bending_a: float | None
    shear_b: float | None
    von_mises: float
    margin_per_newton: float
    governing: str
    needs: str


class Unfit(Facts):
    """A style that does not fit the body, and why."""

    style: str
    title: str
    problem: str


def compare_ends(model: SpringModel) -> tuple[tuple[EndFacts, ...], tuple[Unfit, ...]]:
    """Return every style that carries a load, best first, and those that do not fit."""
    every = [_facts(model, style) for style in registry.styles().values() if style.offered]
    found = [f for f in every if isinstance(f, EndFacts)]
    unfit = [f for f in every if isinstance(f, Unfit)]
    return (
        tuple(sorted(found, key=lambda f: (-f.margin_per_newton, f.style))),
        tuple(sorted(unfit, key=lambda f: f.style)),
    )


def _facts(model: SpringModel, style: EndStyle) -> EndFacts | Unfit | None:
    """Return the facts on a style; None for an end that holds neither a load nor a part."""
    body = model.body
    end = BodyEnd(body.wire_diameter, body.coil_radius, body.pitch)
    try:
        own = style.parameters(**style.decided({}, model.spec.units))
        shape = style.shape(own, end)
    except SpecError as exc:
        first = exc.findings[0]
        problem = f"{first.field}: {first.message}"
        return Unfit(style=style.name, title=style.title, problem=problem)
    if not style.holds_load and not shape.parts:
        return None
    return _measured(model, style, end, shape)


def _measured(
    model: SpringModel, style: EndStyle, end: BodyEnd, shape: EndShape
) -> EndFacts | Unfit:
    g = assemble(end, model.turns, model.body.hand, shape, shape)
    near = hook_approach(g.path, g.wire_diameter)
    if near is not None and near.distance < g.wire_diameter * (1 - 1e-9):
        first, second = near.labels
        problem = f"the wire of {first} would meet {second}; give it other proportions"
        return Unfit(style=style.name, title=style.title, problem=problem)
    book = Handbook(model)
    m = book.material
    unit = analyse(g.path, g.wire_diameter, contacts_of(g), m.elastic_modulus, m.shear_modulus)
    margins = {}
    for region, (name, _) in PLACES.items():
        peak = deciding(unit, region)
        if peak is not None:
            margins[name] = (getattr(book.allowable, name) or 0.0) / peak.value
    governing = min(margins, key=lambda k: margins[k])
    in_hooks = sum(v for k, v in unit.compliance.items() if k != "body")
    a, b = deciding(unit, "A"), deciding(unit, "B")
    return EndFacts(
        style=style.name,
        title=style.title,
        hook_length=shape.hook_length,
        loop_radius=shape.loop_radius,
        bend_radius=shape.bend_radius,
        free_length=g.length,
        wire_length=g.path.length,
        rate=unit.rate,
        compliance_share_percent=100 * in_hooks * unit.rate,
        bending_a=None if a is None else a.value,
        shear_b=None if b is None else b.value,
        von_mises=float(unit.stress.von_mises.max()),
        margin_per_newton=margins[governing],
        governing=governing,
        needs=", ".join(part.name for part in shape.parts),
    )
