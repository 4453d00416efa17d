"""The sections of a calculation note, one function each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from springgeo.computed import ComputedSpring
from springgeo.note.figures import diagram
from springgeo.note.model import Block, Bullets, Heading, Picture, Table, Text, Verbatim
from springgeo.note.steps import Sources, Steps
from springgeo.plots.fatigue import chart as fatigue_chart
from springgeo.plots.fatigue import has_limits
from springgeo.plots.load_length import chart as load_chart
from springgeo.plots.stress_along_wire import Stresses
from springgeo.results.place import KIND_WORDS, KINDS
from springgeo.results.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.shown import Shown
from springgeo.text.words import end_words, piece_words, subject

_PLACES = ("body_shear", "hook_bending", "hook_torsion")
_BAND = {"body_shear": ("body", "shear"), "hook_bending": ("A", "axial")}
_BAND |= {"hook_torsion": ("B", "shear")}


@dataclass
class Written:
    """What every section reads: the spring, its recorded summary, the reader, the sources."""

    spring: ComputedSpring
    s: Summary
    shown: Shown
    sources: Sources
    steps: Steps

    def place(self, key: str) -> str:
        """Return a place in the reader's words."""
        return self.shown.text(KIND_WORDS[KINDS[key]])


def job(w: Written) -> Iterator[Block]:
    """Yield what the spring is for: loads or lengths, duty, temperature; and its picture."""
    shown, s, service = w.shown, w.s, w.spring.spec.service
    yield Heading(shown.say("The job"))
    duty = {
        "static": shown.say("static"),
        "cyclic": shown.say("cyclic"),
        "infinite": shown.say("infinite life"),
    }[service.duty]
    rows = [(shown.say("duty"), duty)]
    if service.duty == "cyclic" and service.cycles:
        rows.append((shown.say("cycles"), shown.number(service.cycles, 3)))
    rows += [
        (shown.say("service temperature"), shown.temperature(s.temperature.value)),
        *(
            (
                shown.say("working point"),
                shown.say(
                    "{load} at {length}, {deflection} beyond the free length",
                    load=q.force(p.load),
                    length=q.length(p.length),
                    deflection=q.length(p.deflection),
                ),
            )
            for p in s.points
        ),
    ]
    yield Table((), tuple(rows), words=(1,))
    picture = w.spring.picture(900)
    yield Picture(picture, shown.say("The free spring, first end to the left"), "spring", 0.9)


def assumptions(w: Written) -> Iterator[Block]:
    """Yield what the calculation rests on, and what it leaves out."""
    shown, s = w.shown, w.s
    yield Heading(shown.say("Assumptions"))
    if s.initial_tension.assumed:
        tension = shown.say(
            "The specification names no initial tension: the middle of the preferred range is "
            "assumed."
        )
    elif s.initial_tension.force > 0:
        tension = shown.say("The initial tension is that of the specification.")
    else:
        tension = shown.say("The body is wound open, without initial tension.")
    yield Bullets(
        (
            shown.say("Stresses and strengths: static allowables of wire that is not set."),
            shown.say("Tensile strength: the least that the standard of the wire allows."),
            tension,
            shown.say(
                "Each hook turns freely on its pin; the load acts along the line between the "
                "contact points; no friction, no impact."
            ),
            shown.say(
                "Two ways stand side by side: the handbook's formulas, and the stress along the "
                "true centreline of the wire in equilibrium. The lesser margin of both decides."
            ),
            shown.say(
                "Not covered: fittings, residual stress of coiling, contact pressure at the pin, "
                "corrosion, embrittlement after plating, relaxation."
            ),
        )
    )


def material(w: Written) -> Iterator[Block]:
    """Yield the wire's figures with their sources."""
    shown, s, m = w.shown, w.s, w.spring.model.material.data
    yield Heading(shown.say("Material"))
    yield Text(shown.text(s.material.title))
    law, wire = w.spring.model.material, w.spring.spec.wire
    tensile = ("", "")
    if wire.tensile_strength is None:
        found = law.tensile(w.spring.model.body.wire_diameter, wire.tensile_law)
        tensile = (found.source, found.known)
    rows = [
        (
            shown.say("tensile strength, minimum"),
            shown.stress(s.material.tensile_strength),
            *tensile,
        ),
        (
            shown.say("shear modulus"),
            shown.stress(s.material.shear_modulus),
            m.shear_modulus.source,
            m.shear_modulus.known,
        ),
        (
            shown.say("Young's modulus"),
            shown.stress(s.material.elastic_modulus),
            m.elastic_modulus.source,
            m.elastic_modulus.known,
        ),
        (
            shown.say("density"),
            shown.quantity(q.Quantity("density", s.material.density, 3)),
            m.density_g_cm3.source,
            m.density_g_cm3.known,
        ),
    ]
    for key, share in zip(_PLACES, law.static_allowables, strict=True):
        rows.append(
            (
                shown.say("static allowable, {place}", place=w.place(key)),
                f"{shown.number(share)} S_ut",
                m.static_allowables.source,
                m.static_allowables.known,
            )
        )
    given = shown.say("given in the specification")
    yield Table(
        (shown.say("quantity"), shown.say("value"), shown.say("source"), shown.say("known")),
        tuple(
            (a, b, f"{w.sources.marks(c)} {shown.text(c)}" if c else given, shown.text(d))
            for a, b, c, d in rows
        ),
        words=(2, 3),
    )


def geometry(w: Written) -> Iterator[Block]:
    """Yield the shape in numbers, and the lengths by formula."""
    shown, g = w.shown, w.s.geometry
    yield Heading(shown.say("Geometry"))
    hand = shown.say("right hand") if g.hand == "right" else shown.say("left hand")
    rows = [
        (shown.say("wire diameter d"), shown.length(g.wire_diameter)),
        (shown.say("mean diameter D"), shown.length(g.mean_diameter)),
        (
            shown.say("outer / inner diameter"),
            f"{shown.length(g.outer_diameter)} / {shown.length(g.inner_diameter)}",
        ),
        (shown.say("body coils"), f"{shown.number(g.body_coils, 5)}, {hand}"),
        (shown.say("body length"), shown.length(g.body_length)),
        (shown.say("free length inside hooks"), shown.length(g.free_length)),
        (shown.say("wire length"), shown.length(g.wire_length)),
        (shown.say("mass"), shown.mass(g.mass)),
    ]
    for side, end in (("first", w.spring.model.first), ("second", w.spring.model.second)):
        what = [shown.text(end.style.title)]
        for name, words in (
            ("hook_length", shown.say("hook length")),
            ("loop_radius", "r1"),
            ("bend_radius", "r2"),
            ("opening", shown.say("opening")),
        ):
            x = getattr(g, f"{name}_{side}")
            if x is not None:
                what.append(f"{words} {shown.length(x)}")
        rows.append((shown.text(end_words(side)), ", ".join(what)))
    yield Table((), tuple(rows), words=(1,))
    yield w.steps.formulas("geometry.index", "free_length.handbook")
    difference = q.length(w.s.free_length.handbook_difference, places=2, signed=True)
    yield Text(
        shown.say(
            "The free length of the centreline is {model}; the handbook's differs by {difference}.",
            model=q.length(g.free_length),
            difference=difference,
        )
    )


def rate(w: Written) -> Iterator[Block]:
    """Yield rate, initial tension and load curve."""
    shown, s = w.shown, w.s
    yield Heading(shown.say("Rate and initial tension"))
    yield w.steps.formulas(
        "rate",
        "initial_tension.stress",
        "initial_tension.preferred_low",
        "initial_tension.preferred_high",
    )
    rows = [
        *(
            (shown.say("rate, {convention}", convention=shown.text(name)), shown.rate(x.rate))
            for name, x in s.rate_conventions.items()
        ),
        (shown.say("rate at small load, as drawn"), shown.rate(s.rates.small_load)),
    ]
    if s.rates.between_points is not None:
        rows.append((shown.say("rate between working points"), shown.rate(s.rates.between_points)))
    yield Table((shown.say("way"), shown.say("value")), tuple(rows))
    yield Text(
        shown.say(
            "The load curve is the wire's equilibrium, as a rod whose coils press on each other "
            "until they part; the textbook's straight line stands beside it."
        )
    )
    yield diagram(load_chart(s), shown.say("Load over length"), shown, 0.72)


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
    for book, wire in zip(s.points, s.along_the_wire.points, strict=True):
        for name, p in ((shown.say("handbook"), book), (shown.say("along the wire"), wire)):
            cells = [shown.value(q.force(p.load)), shown.value(q.length(p.length)), name]
            for key in _PLACES:
                stress, margin = getattr(p, key), getattr(p.margin, key)
                cells.append("–" if stress is None else shown.value(q.stress(stress, places=0)))
                cells.append("–" if margin is None else shown.value(q.number(margin, places=2)))
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
    yield Text(
        shown.say(
            "Provide a travel stop at {length} or before, {load}: {place}.",
            length=q.length(p.travel_stop),
            load=q.force(p.travel_stop_load),
            place=p.place.words,
        ),
        strong=True,
    )


def cycle(w: Written) -> Iterator[Block]:
    """Yield the fatigue check."""
    shown, f = w.shown, w.s.fatigue
    if f is None:
        return
    yield Heading(shown.say("Fatigue"))
    yield Text(
        shown.say(
            "{low} to {high}: {method}.",
            low=q.force(f.load_low),
            high=q.force(f.load_high),
            method=f.method,
        )
    )
    way = "handbook" if f.way in (None, "handbook") else "along_the_wire"
    worst = min(
        (k for k, p in getattr(f, way).items() if p.factor is not None),
        key=lambda k: getattr(f, way)[k].factor,
        default=None,
    )
    if worst is not None and not f.spectrum:
        yield w.steps.formulas(f"fatigue.handbook.{worst}.factor")
    rows = []
    for name, places in (
        (shown.say("handbook"), f.handbook),
        (shown.say("along the wire"), f.along_the_wire),
    ):
        for key, p in places.items():
            strength, factor = p.repeated_strength, p.factor
            rows.append(
                (
                    w.place(key),
                    name,
                    shown.value(q.stress(p.alternating, places=0)),
                    shown.value(q.stress(p.mean, places=0)),
                    "–" if strength is None else shown.value(q.stress(strength, places=0)),
                    "–" if factor is None else shown.value(q.number(factor, places=2)),
                )
            )
    unit = shown.unit("stress")
    head = (
        shown.say("place"),
        shown.say("way"),
        f"{shown.say('alternating')} {unit}",
        f"{shown.say('mean')} {unit}",
        f"{shown.say('endured from zero')} {unit}",
        shown.say("factor"),
    )
    yield Table(head, tuple(rows), words=(1,))
    for bending in (False, True):
        if has_limits(w.s, bending):
            chart = fatigue_chart(w.s, bending)
            yield diagram(chart, shown.text(chart.title), shown, 0.6)


def dynamics(w: Written) -> Iterator[Block]:
    """Yield natural frequency and stored energy."""
    shown, d = w.shown, w.s.dynamics
    yield Heading(shown.say("Vibration and stored energy"))
    yield w.steps.formulas("dynamics.natural_frequency_both_held")
    if d.stored_energy is not None:
        yield Text(
            shown.say(
                "If an end lets go at the highest load, {energy} are released at once.",
                energy=q.Quantity("energy", d.stored_energy, 3),
            )
        )


def findings(w: Written) -> Iterator[Block]:
    """Yield what was found, and the checks on the shape."""
    shown, s = w.shown, w.s
    yield Heading(shown.say("Findings"))
    said = {
        "error": shown.say("Error"),
        "warning": shown.say("Warning"),
        "note": shown.say("Note"),
    }
    if s.findings:
        yield Bullets(
            tuple(
                f"{said[f.severity]}, {shown.text(subject(f.field))}: {shown.text(f.message)}"
                for f in s.findings
            )
        )
    else:
        yield Text(shown.say("Nothing was found."))
    failed = [c.name for c in s.checks if not c.ok]
    if failed:
        yield Text(shown.say("Checks on the shape that failed: {names}", names=", ".join(failed)))
    else:
        count = shown.say(
            "All {count} checks on the shape as drawn are passed.", count=len(s.checks)
        )
        yield Text(count)


def cautions(w: Written) -> Iterator[Block]:
    """Yield the cautions."""
    yield Heading(w.shown.say("Cautions"))
    yield Bullets(tuple(w.shown.text(c) for c in w.s.cautions))


def sources(w: Written) -> Iterator[Block]:
    """Yield what was cited, how it is known, and the specification as it was read."""
    shown = w.shown
    yield Heading(shown.say("Sources"))
    listed = enumerate(w.sources.works, start=1)
    yield Table((), tuple((f"[{i}]", shown.text(x.reference)) for i, x in listed), words=(1,))
    yield Text(
        shown.say(
            "How each formula and figure is known (read in its source, or from memory of it) "
            "stands beside it in springgeo explain."
        )
    )
    yield Heading(shown.say("The specification"))
    yield Verbatim(w.spring.specification_text)


SECTIONS = (
    job,
    assumptions,
    material,
    geometry,
    rate,
    strength,
    pull,
    cycle,
    dynamics,
    findings,
    cautions,
    sources,
)
