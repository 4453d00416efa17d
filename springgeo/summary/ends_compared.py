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
    not judged. ``problem`` says why a style does not fit, the numbers are None then.
    """

    style: str
    title: str
    hook_length: float | None = None
    loop_radius: float | None = None
    bend_radius: float | None = None
    free_length: float | None = None
    wire_length: float | None = None
    rate: float | None = None
    compliance_share_percent: float | None = None
    bending_a: float | None = None
    shear_b: float | None = None
    von_mises: float | None = None
    margin_per_newton: float | None = None
    governing: str = ""
    needs: str = ""
    problem: str = ""


def compare_ends(model: SpringModel) -> tuple[EndFacts, ...]:
    """Return every style that carries a load, best first, then those that do not fit."""
    every = (_facts(model, style) for style in registry.styles().values() if style.offered)
    found = [f for f in every if f is not None]
    return tuple(
        sorted(found, key=lambda f: (bool(f.problem), -(f.margin_per_newton or 0.0), f.style))
    )


def _facts(model: SpringModel, style: EndStyle) -> EndFacts | None:
    """Return the facts on a style; None for an end that holds neither a load nor a part."""
    body = model.body
    end = BodyEnd(body.wire_diameter, body.coil_radius, body.pitch)
    try:
        shape = style.shape(style.parameters(), end)
    except SpecError as exc:
        problem = exc.findings[0]
        return EndFacts(
            style=style.name, title=style.title, problem=f"{problem.field}: {problem.message}"
        )
    if not style.holds_load and not shape.parts:
        return None
    return _measured(model, style, end, shape)


def _measured(model: SpringModel, style: EndStyle, end: BodyEnd, shape: EndShape) -> EndFacts:
    g = assemble(end, model.turns, model.body.hand, shape, shape)
    near = hook_approach(g.path, g.wire_diameter)
    if near is not None and near.distance < g.wire_diameter * (1 - 1e-9):
        return EndFacts(
            style=style.name,
            title=style.title,
            problem=f"the wire of {near.labels[0]} would meet {near.labels[1]}; give it other "
            "proportions",
        )
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
