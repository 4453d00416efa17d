"""What a spring maker must know beside the picture: groups of symbol, quantity, value."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from springgeo.drawing.page import number
from springgeo.ends.protocol import EndShape
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.words import ENDS
from springgeo.trade.dimension_tolerance import Trade, diameter_allowance, length_allowance

MOST_POINTS = 3  # working points shown; more are in the summary


class Row(NamedTuple):
    """One row of the table; a row without a symbol and value is a heading."""

    symbol: str
    quantity: str
    value: str


def points_shown(summary: Summary) -> list[tuple[int, Any]]:
    """Return working points in ascending load with their numbers; the extremes if many."""
    points = list(enumerate(sorted(summary.points, key=lambda p: p.load), 1))
    return points if len(points) <= MOST_POINTS else [points[0], points[-1]]


def free_parameter(summary: Summary) -> tuple[str, str]:
    """Return what is left to the maker, and why: one parameter that lets the loads be held."""
    count = len(summary.points)
    if count >= 2:
        return "wire diameter d", "two loads at lengths are required"
    if count == 1:
        return "initial tension F0", "one load at a length is required"
    return "number of coils n", "no load is required; F0 and R for information"


def data_rows(model: SpringModel, summary: Summary, trade: Trade) -> list[Row]:
    """Return the table from top to bottom."""
    return [
        *_wire(model, summary),
        *_body(summary, trade),
        *_end(model, summary, "a"),
        *_end(model, summary, "b"),
        *_angle(summary),
        *_loads(summary),
        *_stresses(summary),
        *_service(model, summary),
    ]


def _wire(model: SpringModel, s: Summary) -> Iterator[Row]:
    yield Row("", "WIRE", "")
    yield Row("", "material", s.material.title)
    if model.material.standard and model.material.standard not in s.material.title:
        yield Row("", "standard", model.material.standard)
    yield Row("d", "wire diameter", f"{number(s.geometry.wire_diameter, 3)} mm")
    yield Row("Rm", "least tensile strength", f"{s.material.tensile_strength:.0f} MPa")
    g, e = s.material.shear_modulus / 1e3, s.material.elastic_modulus / 1e3
    yield Row("G, E", "moduli", f"{g:.1f}, {e:.1f} GPa")


def _body(s: Summary, trade: Trade) -> Iterator[Row]:
    g = s.geometry
    yield Row("", "BODY", "")
    diameter = diameter_allowance(g.mean_diameter, g.index)
    yield Row("D", "mean diameter", f"{number(g.mean_diameter, 3)}{_pm(diameter)} mm")
    yield Row(
        "De, Di",
        "outside, inside",
        f"({number(g.outer_diameter)}), ({number(g.inner_diameter)}) mm",
    )
    yield Row("w", "index D/d", f"{g.index:.2f}")
    yield Row(
        "n",
        "body coils, hand" if g.total_coils > g.body_coils else "coils, hand",
        f"{number(g.body_coils)}, {g.hand} hand",
    )
    if g.total_coils > g.body_coils:
        yield Row("nt", "all coils", number(g.total_coils))
    wound = (
        "touching" if g.coil_gap < 0.01 * g.wire_diameter else f"open, pitch {number(g.pitch)} mm"
    )
    yield Row("", "winding", wound)
    yield Row("LK", "body length", f"({number(g.body_length)}) mm")
    length = length_allowance(g.free_length, g.index, trade)
    shown = number(g.free_length)
    yield Row(
        "L0",
        "length inside hooks",
        f"({shown}) mm" if len(s.points) >= 2 else f"{shown}{_pm(length)} mm",
    )


def _pm(allowance: Any) -> str:
    return "" if allowance is None else f" ±{number(allowance.value)}"


def _end(model: SpringModel, s: Summary, side: str) -> Iterator[Row]:
    end, g = getattr(model, side), s.geometry
    yield Row("", f"{ENDS[side].upper()}: {end.style.title}", "")
    shape = getattr(model.geometry, side)
    if shape.parts:
        yield from _fitted(shape, s, side)
    if not end.style.holds_load:
        return
    m = getattr(g, f"opening_{side}")
    opening = "" if m is None else f", {number(m)}"
    symbols = "LH" if m is None else "LH, m"
    words = "hook length" if m is None else "hook length, opening"
    yield Row(symbols, words, f"{number(getattr(g, f'hook_length_{side}'))}{opening} mm")
    r1, r2 = getattr(g, f"loop_radius_{side}"), getattr(g, f"bend_radius_{side}")
    if r1 is not None and r2 is not None:
        yield Row("r1, r2", "loop, bend radius", f"{number(r1)}, {number(r2)} mm")


def _fitted(shape: EndShape, s: Summary, side: str) -> Iterator[Row]:
    length = number(getattr(s.geometry, f"hook_length_{side}"))
    yield Row("LH", "body to load point", f"{length} mm")
    yield Row("", "coils held, inactive", number(shape.gripped_coils))
    for part in shape.parts:
        for words, value in part.sizes:
            yield Row("", f"{part.name}, {words}", f"{number(value)} mm")
    yield Row("", "pull-out", "prove by test")


def _angle(s: Summary) -> Iterator[Row]:
    if s.geometry.loop_angle is not None:
        yield Row("", "angle between loops", f"{number(s.geometry.loop_angle, 1)}°")


def _loads(s: Summary) -> Iterator[Row]:
    yield Row("", "LOADS", "")
    t = s.initial_tension
    preferred = (
        ""
        if t.preferred_low is None or t.preferred_high is None
        else f" ({t.preferred_low:.0f}–{t.preferred_high:.0f})"
    )
    yield Row("F0", "initial tension", f"{number(t.force)} N{' (assumed)' if t.assumed else ''}")
    yield Row("τ0", "stress (preferred)", f"{t.stress:.0f}{preferred} MPa")
    yield Row("R", "rate (information)", f"{s.rate:.4g} N/mm")
    tolerances = {p.load: p.tolerance_percent for p in s.load_line.handbook[2:]}
    for k, p in points_shown(s):
        percent = tolerances.get(p.load)
        pm = "" if percent is None else f" ±{number(p.load * percent / 100)}"
        yield Row(f"F{k}, L{k}", "load at length", f"{number(p.load)}{pm} N, {number(p.length)} mm")
    if len(s.points) > MOST_POINTS:
        yield Row("", "further points", f"{len(s.points) - 2}, in the summary file")


def _stresses(s: Summary) -> Iterator[Row]:
    if not s.points:
        return
    k, p = points_shown(s)[-1]
    yield Row("", f"STRESS AT F{k} (allowable)", "")
    for symbol, words, name in (
        ("τk", "body shear", "body_shear"),
        ("σA", "hook bending", "hook_bending_a"),
        ("τB", "hook torsion", "hook_torsion_b"),
    ):
        value, allowed = getattr(p, name), getattr(p.allowable, name)
        if value is not None:
            yield Row(
                symbol, words, f"{value:.0f}" + (f" ({allowed:.0f})" if allowed else "") + " MPa"
            )
    if s.verdict is not None:
        yield Row("", "least margin", f"{s.verdict.margin:.2f}, {s.verdict.place.words}")


def _mass(kilograms: float) -> str:
    return f"{kilograms:.3g} kg" if kilograms >= 1 else f"{1e3 * kilograms:.3g} g"


def _grouped(count: float) -> str:
    return f"{count:,.0f}".replace(",", " ") if count < 1e9 else f"{count:.3g}"


def _service(model: SpringModel, s: Summary) -> Iterator[Row]:
    service = model.spec.service
    yield Row("", "SERVICE AND FINISH", "")
    cycles = "" if service.cycles is None else f", {_grouped(service.cycles)} cycles"
    yield Row("", "duty", f"{service.duty}{cycles}")
    yield Row("", "temperature", f"{number(service.temperature)} °C")
    finish = "shot peened" if service.peened else "none stated; agree with maker"
    yield Row("", "surface, finish", finish)
    yield Row("", "wire length, mass", f"{s.geometry.wire_length:.4g} mm, {_mass(s.geometry.mass)}")
    yield Row("", "free for the maker", free_parameter(s)[0])
