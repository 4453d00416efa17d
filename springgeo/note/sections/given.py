"""What the note starts from: the job, what is assumed, the material."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.note.model import Block, Bullets, Heading, Picture, Table, Text
from springgeo.note.sections.written import Written
from springgeo.results.measured import measured_points, taut_as_mounted
from springgeo.text import quantity as q

_PLACES = ("body_shear", "hook_bending", "hook_torsion")


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
            for _, p in measured_points(s)
        ),
        *(
            (
                shown.say("working point"),
                shown.say(
                    "{load} at {length} as mounted, slack pulled straight",
                    load=q.force(p.load),
                    length=q.length(p.length),
                ),
            )
            for _, p in taut_as_mounted(s)
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
