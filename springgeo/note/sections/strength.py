"""Strength under single loads: stresses, peaks, how far it may be pulled."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.note.figures import diagram
from springgeo.note.model import Block, Heading, Table, Text
from springgeo.note.sections.written import Written
from springgeo.plots.stress_along_wire import Stresses
from springgeo.results.along_wire import WirePoint
from springgeo.results.handbook import WorkingPoint
from springgeo.summary.verdict import WAY_WORDS
from springgeo.text import quantity as q
from springgeo.text.naming import piece_words

_PLACES = ("body_shear", "hook_bending", "hook_torsion")
_BAND = {"body_shear": ("body", "shear"), "hook_bending": ("A", "axial")}
_BAND |= {"hook_torsion": ("B", "shear")}


def strength(w: Written) -> Iterator[Block]:
    """Yield the static checks: formulas at the highest load, both ways at every load."""
    shown, s = w.shown, w.s
    yield Heading(shown.say("Static strength"))
    if not s.points:
        yield Text(shown.say("The specification names no load: nothing is checked here."))
        return
    last = len(s.points) - 1
    load = q.force(s.points[last].load)
    yield Text(shown.say("By the handbook, at the highest load, {load}:", load=load))
    for place in _PLACES:
        if getattr(s.points[last], place) is not None:
            yield Text(f"{w.place(place)}:")
            yield w.steps.formulas(f"points.{last}.margin.{place}")
    if s.static_check is not None:
        yield Text(
            shown.say("The static check of EN 13906-2, on the uncorrected stress of the body:")
        )
        yield w.steps.formulas("static_check.margin")
    yield _points(w)
    yield from _peaks(w, last)


def _points(w: Written) -> Table:
    shown, s = w.shown, w.s
    rows = []
    every: list[tuple[str, WorkingPoint | WirePoint]] = []
    for book, wire in zip(s.points, s.along_the_wire.points, strict=True):
        every += [(shown.say("handbook"), book), (shown.say("along the wire"), wire)]
    every += [(shown.say("along the wire, as mounted"), p) for p in s.mounted]
    for name, p in every:
        cells = [shown.value(q.force(p.load)), shown.value(q.length(p.length)), name]
        for key in _PLACES:
            stress, margin = getattr(p, key), getattr(p.margin, key)
            cells.append("–" if stress is None else shown.value(q.stress(stress, places=0)))
            cells.append("–" if margin is None else shown.value(q.factor(margin)))
        rows.append(tuple(cells))
    head = [
        f"{shown.say('load')} {shown.unit('force')}",
        f"{shown.say('length')} {shown.unit('length')}",
        shown.say("way"),
    ]
    for key in _PLACES:
        head += [f"{w.place(key)} {shown.unit('stress')}", shown.say("margin")]
    caption = shown.say("Stress at the working points; margin is allowable over stress")
    return Table(tuple(head), tuple(rows), caption, words=(2,))


def _peaks(w: Written, last: int) -> Iterator[Block]:
    """Yield where along the wire the greatest stresses are, how well known, and the diagram."""
    shown, s = w.shown, w.s
    at = {(p.region, p.kind): p for p in s.along_the_wire.peaks}
    rows = []
    for key in _PLACES:
        p = at.get(_BAND[key])
        stress = getattr(s.along_the_wire.points[last], key)
        if p is None or stress is None:
            continue
        band = f"{shown.number(p.error_low)} … {shown.number(p.error_high)} %"
        rows.append(
            (
                w.place(key),
                shown.stress(stress),
                shown.text(piece_words(p.label)),
                shown.length(p.s),
                band,
            )
        )
    head = (
        shown.say("place"),
        shown.say("stress"),
        shown.say("greatest in"),
        shown.say("from the first end's cut"),
        shown.say("against finite elements"),
    )
    caption = shown.say("Along the wire, at the highest load")
    if s.mounted:
        caption = shown.say("Along the wire, at the highest load, pulled straight")
    yield Table(head, tuple(rows), caption, words=(2,))
    wire = w.spring.along_the_wire.at(float(s.points[last].load))
    yield diagram(Stresses(s, wire).whole(), shown.say("Stress along the wire"), shown, 0.78)


def pull(w: Written) -> Iterator[Block]:
    """Yield how far the spring may be pulled."""
    shown, p = w.shown, w.s.pull
    yield Heading(shown.say("How far it may be pulled"))
    rows = []
    for name, places in (
        (shown.say("handbook"), p.handbook),
        (shown.say("along the wire"), p.along_the_wire),
    ):
        for key, x in places.items():
            cells = [w.place(key), name]
            for at in (x.allowable, x.yield_from, x.yield_to):
                cells += (
                    ["–", "–"]
                    if at is None
                    else [shown.value(q.force(at.load)), shown.value(q.length(at.length))]
                )
            rows.append(tuple(cells))
    force, length = shown.unit("force"), shown.unit("length")
    head = [shown.say("place"), shown.say("way")]
    for words in (
        shown.say("allowable at"),
        shown.say("yields from"),
        shown.say("yields at the latest"),
    ):
        head += [f"{words} {force}", length]
    yield Table(tuple(head), tuple(rows), words=(1,))
    if p.mounted is None:
        stop = shown.say(
            "Provide a travel stop at {length} or before, {load}: {place}.",
            length=q.length(p.travel_stop),
            load=q.force(p.travel_stop_load),
            place=p.place.words,
        )
        yield Text(stop, strong=True)
        return
    stop = shown.say(
        "Provide a travel stop at {length} or before, {load}: as it is mounted no more is held.",
        length=q.length(p.mounted.length),
        load=q.force(p.mounted.load),
    )
    yield Text(stop, strong=True)
    yield Text(
        shown.say(
            "Pulled straight the first allowable is reached at {length}, {load}, {place}, {way}.",
            length=q.length(p.travel_stop),
            load=q.force(p.travel_stop_load),
            place=p.place.words,
            way=WAY_WORDS[p.way],
        )
    )
