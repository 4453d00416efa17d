"""What a spring maker must know beside the picture: groups of symbol, quantity, value."""

from __future__ import annotations

import math
from collections.abc import Iterator

from springgeo.drawing.rows.end import end_rows
from springgeo.drawing.rows.making import making_rows
from springgeo.drawing.rows.row import Row, Sheet, plus_minus
from springgeo.making.ruling import ruling
from springgeo.results.measured import measured_points, taut_as_mounted
from springgeo.text.quantity import degrees, factor, force, length, number, rate, stress
from springgeo.text.shown import said, word
from springgeo.trade.dimension_tolerance import diameter_allowance, length_allowance
from springgeo.trade.held import held


def data_rows(of: Sheet) -> list[Row]:
    """Return the table from top to bottom."""
    return [
        *_wire(of),
        *_body(of),
        *end_rows(of, "first"),
        *end_rows(of, "second"),
        *_angle(of),
        *_loads(of),
        *_stresses(of),
        *making_rows(of),
    ]


def _wire(of: Sheet) -> Iterator[Row]:
    s, standard = of.summary, of.model.material.standard
    yield Row("", word("WIRE"), "")
    yield Row("", word("material"), s.material.title)
    if standard and standard not in s.material.title:
        yield Row("", word("standard"), standard)
    yield Row("d", word("wire diameter"), _said_length(s.geometry.wire_diameter))
    strength = said("{stress}", stress=stress(s.material.tensile_strength, places=0))
    yield Row("Rm", word("least tensile strength"), strength)
    g, e = s.material.shear_modulus, s.material.elastic_modulus
    moduli = said("{g}, {e}", g=stress(round(g, -2), 4, unit=False), e=stress(round(e, -2), 4))
    yield Row("G, E", word("moduli"), moduli)


def _said_length(mm: float) -> str:
    return said("{length}", length=length(mm))


def _body(of: Sheet) -> Iterator[Row]:
    g = of.summary.geometry
    yield Row("", word("BODY"), "")
    rules = ruling(of.model.spec)
    allowance = plus_minus(diameter_allowance(g.mean_diameter, g.index, of.trade))
    for name, symbol, words, value in (
        ("mean", "D", word("mean diameter"), g.mean_diameter),
        ("outer", "De", word("outside diameter"), g.outer_diameter),
        ("inner", "Di", word("inside diameter"), g.inner_diameter),
    ):
        yield Row(symbol, words, _with(value, allowance, name == rules))
    yield Row("w", word("index D/d"), said("{index}", index=number(g.index, places=2)))
    hand = word("right hand") if g.hand == "right" else word("left hand")
    coils = said("{coils}, {hand}", coils=number(round(g.body_coils, 3), 9), hand=hand)
    more = g.total_coils > g.body_coils
    yield Row("n", word("body coils, hand") if more else word("coils, hand"), coils)
    if more:
        yield Row("nt", word("all coils"), said("{n}", n=number(round(g.total_coils, 3), 9)))
    yield Row("", word("winding"), _winding(of))
    yield Row("LK", word("body length"), said("({length})", length=length(g.body_length)))
    allowance = plus_minus(length_allowance(g.free_length, g.index, of.trade))
    inside = _with(g.free_length, allowance, not of.loads_rule)
    yield Row("L0", word("length inside hooks"), inside)


def _winding(of: Sheet) -> str:
    g = of.summary.geometry
    if of.model.body.is_open:
        return said("open, pitch {pitch}", pitch=length(g.pitch))
    return word("touching")


def _with(value: float, allowance: float | None, rules: bool) -> str:
    """Return a length that rules with its tolerance, another in the brackets of a reference."""
    if not rules:
        return said("({length})", length=length(value))
    if allowance is None:
        return said("{length}", length=length(value))
    return said("{length} ±{off}", length=length(value, unit=False), off=length(allowance, 2))


def _angle(of: Sheet) -> Iterator[Row]:
    g = of.summary.geometry
    if g.loop_angle is None:
        return
    yield Row("", word("BETWEEN THE ENDS"), "")
    plane = said("{angle}", angle=degrees(round(g.loop_angle, 1)))
    yield Row("", word("angle of loop planes"), plane)
    facing = of.model.geometry.facing
    if facing is not None:
        shown = said("{angle}", angle=degrees(round(math.degrees(facing), 1)))
        yield Row("", word("second opens from first"), shown)


def _loads(of: Sheet) -> Iterator[Row]:
    s = of.summary
    yield Row("", word("LOADS"), "")
    yield from _tension(of)
    between = s.rates.between_points
    if between is not None:
        yield Row("R", word("rate between loads"), said("({rate})", rate=rate(between)))
    else:
        yield Row("R", word("rate, handbook"), said("({rate})", rate=rate(s.rate)))
    tolerances = {p.load: p.tolerance_percent for p in s.load_line.along_the_wire[2:]}
    for k, there in taut_as_mounted(s):
        value = said(
            "{load} at {length} as mounted, slack pulled straight",
            load=force(there.load, unit=False),
            length=length(there.length),
        )
        yield Row(f"F{k}, L{k}", word("load at length"), value)
    for k, p in measured_points(s):
        off = p.load * tolerances.get(p.load, 0.0) / 100
        value = said(
            "{load} ±{off} at {length}",
            load=force(p.load, unit=False),
            off=force(off, 2),
            length=length(p.length),
        )
        yield Row(f"F{k}, L{k}", word("load at length"), value)


def _tension(of: Sheet) -> Iterator[Row]:
    g, t = of.summary.geometry, of.summary.initial_tension
    if t.force == 0:
        yield Row("F0", word("initial tension"), word("none"))
        return
    share = held(g.wire_diameter, g.mean_diameter, g.body_coils, g.free_length).initial_tension
    tension = said(
        "{force} ±{off}", force=force(t.force, unit=False), off=force(share * t.force, 2)
    )
    if t.assumed:
        tension = said("{tension}, assumed", tension=tension)
    yield Row("F0", word("initial tension"), tension)
    if t.preferred_low is not None and t.preferred_high is not None:
        value = said(
            "{stress} ({low}–{high})",
            stress=stress(t.stress, places=0),
            low=stress(t.preferred_low, places=0, unit=False),
            high=stress(t.preferred_high, places=0, unit=False),
        )
    else:
        value = said("{stress}", stress=stress(t.stress, places=0))
    yield Row("τ0", word("stress (preferred)"), value)


def _stresses(of: Sheet) -> Iterator[Row]:
    s = of.summary
    if not s.points:
        return
    k, p = max(enumerate(sorted(s.points, key=lambda p: p.load), 1), key=lambda e: e[1].load)
    yield Row("", said("STRESS AT F{k} (allowable)", k=k), "")
    for symbol, words, name in (
        ("τk", word("body shear"), "body_shear"),
        ("σA", word("hook bending"), "hook_bending"),
        ("τB", word("hook torsion"), "hook_torsion"),
    ):
        value, allowed = getattr(p, name), getattr(p.allowable, name)
        if value is None:
            continue
        at = stress(value, places=0)
        if allowed:
            limit = stress(allowed, places=0, unit=False)
            yield Row(symbol, words, said("{stress} ({allowed})", stress=at, allowed=limit))
        else:
            yield Row(symbol, words, said("{stress}", stress=at))
    if s.verdict is not None:
        margin = factor(s.verdict.margin)
        place = word(s.verdict.place.words)
        value = (
            said("{margin}, {place}, as mounted", margin=margin, place=place)
            if s.verdict.as_mounted
            else said("{margin}, {place}", margin=margin, place=place)
        )
        yield Row("", word("least margin"), value)
