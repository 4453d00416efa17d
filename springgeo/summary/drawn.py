"""What was built, in numbers: sizes, masses, the free length by the model and the handbook."""

from __future__ import annotations

import math

from springgeo.fit.mouth import hook_mouth
from springgeo.mechanics import length
from springgeo.results.geometry import FreeLength, GeometryFacts
from springgeo.specification.end_names import Side
from springgeo.spring.model import SpringModel
from springgeo.summary import origin
from springgeo.summary.handbook import Handbook
from springgeo.worked.number import number


def geometry_facts(book: Handbook) -> GeometryFacts:
    """Return what was built, in numbers."""
    model = book.model
    g, body, d, D = model.geometry, model.body, book.d, book.D
    area = math.pi * d**2 / 4
    wire = origin.read_off(g.path.length, "l", "length of the wire", "mm")
    near = model.body_approach
    return GeometryFacts(
        wire_diameter=d,
        mean_diameter=D,
        outer_diameter=D + d,
        inner_diameter=D - d,
        index=book.C,
        body_coils=origin.body_coils(model),
        total_coils=g.total_coils,
        hand=body.hand,
        pitch=g.pitch,
        coil_gap=near.distance - g.wire_diameter if near else g.pitch - g.wire_diameter,
        body_length=g.body_length,
        hook_length_first=g.first.hook_length,
        hook_length_second=g.second.hook_length,
        loop_angle=None if g.angle is None else math.degrees(g.angle),
        free_length=book.L_0,
        height=g.height,
        overall_length=g.overall_length,
        wire_length=wire,
        mass=origin.named(area * wire * origin.density(model), "m", "mass of the wire", "kg"),
        loop_radius_first=g.first.loop_radius,
        loop_radius_second=g.second.loop_radius,
        bend_radius_first=g.first.bend_radius,
        bend_radius_second=g.second.bend_radius,
        opening_first=g.first.opening,
        opening_second=g.second.opening,
        mouth_first=_mouth(model, "first"),
        mouth_second=_mouth(model, "second"),
    )


def _mouth(model: SpringModel, side: Side) -> float | None:
    holds = model.first.style.holds_load if side == "first" else model.second.style.holds_load
    found = hook_mouth(model.geometry, side, holds_load=holds)
    return None if found is None else found.width


def free_length(book: Handbook, solid_length: float | None) -> FreeLength:
    """Return the free length by the model, the handbook and, if built, the solid."""
    model, g, d = book.model, book.model.geometry, book.d
    turns = origin.body_coils(model)
    # an open-wound body is not (N_b + 1) d long in any book
    if model.body.is_open:
        body = origin.read_off(g.body_length, "L_b", "length of the open body", "mm")
    else:
        body = number(length.body_length(turns, d))
    hooks = (
        origin.read_off(end.hook_length, f"L_h_{side}", f"hook length, end {side}", "mm")
        for side, end in (("first", g.first), ("second", g.second))
    )
    handbook = number(length.free_length(body, *hooks))
    inside = model.body.mean_diameter - d
    loops = all(math.isclose(h.hook_length, inside, rel_tol=1e-9) for h in (g.first, g.second))
    full = number(length.free_length_full_loops(book.C, turns, d)) if loops else None
    return FreeLength(
        model=book.L_0,
        handbook=handbook,
        handbook_difference=handbook - book.L_0,
        full_loops=full,
        solid=solid_length,
        solid_difference=None if solid_length is None else solid_length - g.length,
    )
