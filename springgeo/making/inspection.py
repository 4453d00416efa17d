"""What to measure on the finished spring, how, and between which limits."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from springgeo.ends.protocol import EndShape
from springgeo.making.ruling import ruling
from springgeo.results.measured import measured_points
from springgeo.specification.end_names import Side
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.quantity import length
from springgeo.text.shown import said, word
from springgeo.trade.dimension_tolerance import (
    Trade,
    angle_allowance,
    diameter_allowance,
    general_allowance,
    length_allowance,
    mouth_allowance,
)
from springgeo.trade.held import held
from springgeo.trade.threads import named


@dataclass(frozen=True)
class Check:
    """One thing to measure: symbol, words, kind of quantity, nominal and limits, and how.

    Lengths mm, forces N, angles deg; None where there is nothing to measure against. ``low`` and
    ``high`` are None where the sheet sets no limits: the value is for reference.
    """

    symbol: str
    what: str
    kind: str
    nominal: float | None
    low: float | None
    high: float | None
    how: str


def inspection(model: SpringModel, summary: Summary, trade: Trade) -> tuple[Check, ...]:
    """Return what is inspected, in the order in which it is done; no sampling is invented."""
    return tuple(_checks(model, summary, trade))


def _checks(model: SpringModel, summary: Summary, trade: Trade) -> Iterator[Check]:
    test = model.spec.making
    if test.test_load is not None:
        how = word("pull once, before anything else is measured")
        yield Check("", word("test load"), "force", test.test_load, None, None, how)
    if test.test_length is not None:
        how = word("pull once, before anything else is measured")
        yield Check("", word("test length"), "length", test.test_length, None, None, how)
    yield from _body(model, summary, trade)
    for side in ("first", "second"):
        yield from _end(model, summary, side)
    yield from _angle(model, summary)
    yield from _loads(summary)
    yield Check("", word("surface"), "", None, None, None, word("by eye: no tool marks on hooks"))


def _body(model: SpringModel, summary: Summary, trade: Trade) -> Iterator[Check]:
    g = summary.geometry
    how = word("micrometer; limits of the wire's standard")
    yield Check("d", word("wire diameter"), "length", g.wire_diameter, None, None, how)
    rules = ruling(model.spec)
    symbol, words, value, tool = {
        "mean": ("D", word("mean diameter"), g.mean_diameter, word("over the coils, less d")),
        "outer": ("De", word("outside diameter"), g.outer_diameter, word("over the coils")),
        "inner": ("Di", word("inside diameter"), g.inner_diameter, word("plug gauge")),
    }[rules]
    off = diameter_allowance(g.mean_diameter, g.index, trade)
    yield _within(symbol, words, "length", value, None if off is None else off.value, tool)
    coils = held(g.wire_diameter, g.mean_diameter, g.body_coils, g.free_length).coils
    how = word("count between the end faces")
    yield _within("n", word("body coils"), "number", g.body_coils, coils, how)
    off = length_allowance(g.free_length, g.index, trade)
    free = None if off is None or len(measured_points(summary)) >= 2 else off.value
    how = word("inside the hooks, spring lying")
    yield _within("L0", word("free length"), "length", g.free_length, free, how)


def _end(model: SpringModel, summary: Summary, side: Side) -> Iterator[Check]:
    shape: EndShape = getattr(model.geometry, side)
    words = word("first end") if side == "first" else word("second end")
    if shape.parts:
        how = word("pull to the load agreed on; not computed")
        yield Check("", said("{end}: pull-out", end=words), "", None, None, None, how)
    for value in shape.built.values():
        if not isinstance(value, str) or named(value) is None:
            continue
        name = said("{end}: {thread}", end=words, thread=value)
        yield Check("", name, "", None, None, None, word("thread gauge"))
    if not getattr(model, side).style.holds_load:
        return
    off = general_allowance(shape.hook_length)
    how = word("caliper, body's end face to inside of hook")
    name = said("{end}: hook length", end=words)
    limit = None if off is None else off.value
    yield _within("LH", name, "length", shape.hook_length, limit, how)
    width = summary.geometry.mouth_first if side == "first" else summary.geometry.mouth_second
    if not width:  # none, or closed
        return
    how = word("pin gauge past the cut end")
    name = said("{end}: mouth", end=words)
    limit = mouth_allowance(width, model.body.wire_diameter).value
    yield _within("m", name, "length", round(width, 2), round(limit, 2), how)


def _angle(model: SpringModel, summary: Summary) -> Iterator[Check]:
    facing = model.geometry.facing
    if facing is None:
        return
    off = angle_allowance(summary.geometry.body_coils)
    how = word("protractor, seen along the axis")
    name, limit = word("second opens from first"), None if off is None else off.value
    yield _within("", name, "degrees", math.degrees(facing), limit, how)


def _loads(summary: Summary) -> Iterator[Check]:
    g, force = summary.geometry, summary.initial_tension.force
    share = held(g.wire_diameter, g.mean_diameter, g.body_coils, g.free_length).initial_tension
    how = word("from two loads on the straight line, back to L0")
    if force > 0:
        yield _within("F0", word("initial tension"), "force", force, share * force, how)
    percent = {p.load: p.tolerance_percent for p in summary.load_line.along_the_wire[2:]}
    for k, p in measured_points(summary):
        how = said("load tester, at L{k} = {length} inside hooks", k=k, length=length(p.length))
        off = p.load * percent.get(p.load, 0.0) / 100
        yield _within(f"F{k}", word("load at length"), "force", p.load, off, how)


def _within(symbol: str, what: str, kind: str, value: float, off: float | None, how: str) -> Check:
    low, high = (None, None) if off is None else (value - off, value + off)
    return Check(symbol, what, kind, value, low, high, how)
