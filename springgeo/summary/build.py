"""From a model to its summary, before or after a solid was built."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from springgeo.findings import Finding, by_severity
from springgeo.fit.mouth import hook_mouth
from springgeo.mechanics import dynamics, length
from springgeo.results.along_wire import WirePoint
from springgeo.results.geometry import FittedPart, FreeLength, GeometryFacts
from springgeo.results.handbook import Dynamics
from springgeo.results.load_line import LoadLine
from springgeo.results.overload import Overload
from springgeo.results.summary import Summary
from springgeo.results.verdict import Check
from springgeo.specification.end_names import Side
from springgeo.spring.model import SpringModel
from springgeo.summary import origin
from springgeo.summary.advice.build import advice
from springgeo.summary.conventions import rate_conventions, static_check, tension_ranges
from springgeo.summary.fatigue.facts import fatigue_facts
from springgeo.summary.handbook import Handbook
from springgeo.summary.load_line import load_line_facts
from springgeo.summary.loaded import contact_facts, lean_facts, pins_facts, rates_facts, stored
from springgeo.summary.mounting import WireMounted, mounted, mounted_points, off_the_line
from springgeo.summary.pull import pull_facts
from springgeo.summary.reach import require_points
from springgeo.summary.temperature import require_limits, temperature_facts
from springgeo.summary.verdict import verdict_facts
from springgeo.summary.wire import AlongWire
from springgeo.worked.number import number


def summarise(
    model: SpringModel,
    checks: Iterable[Check] = (),
    solid_length: float | None = None,
) -> Summary:
    """Return the summary; ``solid_length`` is the free length read off a solid's box, mm.

    From a load curve of its own, so that the same model has the same bytes whatever states were
    asked for before.

    Raises
    ------
    SpecError
        The service temperature is beyond the limits of the wire, or a working point beyond what
        the wire can be drawn to.
    """
    require_limits(model)
    book = Handbook(model)
    wire = AlongWire(book)
    require_points(wire)
    first, under = unloaded(book, solid_length), at_points(book, wire)
    cycle = under["fatigue"]
    pull = pull_facts(book, wire)
    contact = contact_facts(book)
    line, leans = load_line_facts(book, pull), lean_facts(book)
    place = mounted(book, model.spec.mating)
    points: tuple[WirePoint, ...] = ()
    off: tuple[Finding, ...] = ()
    if place is not None:
        there = WireMounted(book, place)
        points = mounted_points(there)
        off = tuple(off_the_line(there, points))
    return Summary(
        name=model.spec.name,
        specification=model.spec.model_dump(mode="json", exclude_none=True),
        # what names an own material's file says nothing elsewhere
        specification_text=None if isinstance(model.spec.wire.material, dict) else model.text,
        **first,
        **under,
        contact=contact,
        pins=pins_facts(book, place),
        mounted=points,
        lean=leans,
        pull=pull,
        overload=_overload(book),
        load_line=line,
        dynamics=dynamics_facts(book, line),
        findings=by_severity([*advice(book, wire, cycle, line, leans), *off]),
        checks=tuple(checks),
    )


def _overload(book: Handbook) -> Overload | None:
    """Return what the specification asks for (``service.overload``), or None."""
    load = book.model.spec.service.overload
    if load is None:
        return None
    # sections that yield are much to load, and seldom asked for
    from springgeo.summary.overload.facts import overload_facts

    return overload_facts(book, load=load)


def part(model: SpringModel, name: str) -> dict[str, Any]:
    """Return a section of the summary by its key, with those that are computed before it.

    The same numbers as in the whole; empty where all that comes before is nearly all.
    """
    require_limits(model)
    book = Handbook(model)
    if name in UNLOADED:
        return unloaded(book, None)
    if name not in AT_POINTS:
        return {}
    wire = AlongWire(book)
    require_points(wire)
    return at_points(book, wire)


# sections that need no load curve, and those that need it at the working points alone
UNLOADED = frozenset(
    {
        *("material", "temperature", "geometry", "parts", "free_length", "rate", "active_coils"),
        *("rate_conventions", "initial_tension", "initial_tension_ranges"),
    }
)
AT_POINTS = frozenset(["rates", "static_check", "points", "along_the_wire", "fatigue", "verdict"])


def unloaded(book: Handbook, solid_length: float | None) -> dict[str, Any]:
    """Return the sections that need no load curve, by key."""
    model = book.model
    return {
        "material": book.material,
        "temperature": temperature_facts(model),
        "geometry": geometry_facts(book),
        "parts": tuple(
            FittedPart(name=p.name, volume=p.volume, sizes=dict(p.sizes))
            for p in model.geometry.parts
        ),
        "free_length": free_length(book, solid_length),
        "rate": book.rate,
        "active_coils": book.active_coils,
        "rate_conventions": rate_conventions(book),
        "initial_tension": book.initial_tension,
        "initial_tension_ranges": tension_ranges(book),
    }


def at_points(book: Handbook, wire: AlongWire) -> dict[str, Any]:
    """Return the sections that need the load curve at the working points alone, by key."""
    cycle, along = fatigue_facts(book, wire), wire.facts()
    return {
        "rates": rates_facts(book, wire),
        "static_check": static_check(book),
        "points": book.points,
        "along_the_wire": along,
        "fatigue": cycle,
        "verdict": verdict_facts(book, along.points, cycle),
    }


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
        overall_length=g.overall_length,
        wire_length=wire,
        mass=area * wire * origin.density(model),
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


def dynamics_facts(book: Handbook, line: LoadLine) -> Dynamics:
    """Return natural frequencies and the energy released if the highest load lets go."""
    energy = None
    if book.points:
        energy = stored(line.curve, book.points[-1].length)
    return Dynamics(
        natural_frequency_both_held=book.natural_frequency,
        natural_frequency_one_free=number(dynamics.f_one_free(book.rate, book.mass_active)),
        stored_energy=energy,
    )
