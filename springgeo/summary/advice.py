"""Warnings and notes by the rules of the trade: one function per subject."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from springgeo.ends.protocol import EndShape
from springgeo.findings import Finding, by_severity, note, warning
from springgeo.materials import sizes
from springgeo.mechanics import dynamics
from springgeo.message import Message
from springgeo.results.loaded import Lean
from springgeo.results.place import KIND_WORDS, KINDS, Place
from springgeo.results.summary import Fatigue, LoadLine
from springgeo.specification.bare import bare_finding
from springgeo.spring.model import End
from springgeo.summary.handbook import Handbook
from springgeo.summary.loaded_advice import off_the_axis, off_the_straight_line
from springgeo.summary.temperature import temperature_findings
from springgeo.summary.verdict import WAY_WORDS
from springgeo.summary.wire import PLACES, AlongWire
from springgeo.text import quantity as q
from springgeo.text.shown import said, together, word
from springgeo.trade.limits import limits
from springgeo.trade.practice import practice

FREQUENCY_RATIO = practice("frequency_ratio")
# no gauge has more inches
THICKEST_GAUGE = 0.5
# up to which wire radius over bend radius the stress distribution was computed
TIGHTEST = practice("smoothest_bend")
# within which Poisson's ratio of the moduli draws no remark
USUAL_POISSON = practice("poisson_low"), practice("poisson_high")


def advice(
    book: Handbook,
    wire: AlongWire,
    cycle: Fatigue | None,
    line: LoadLine,
    leans: Sequence[Lean],
) -> tuple[Finding, ...]:
    """Return every finding about a spring that can be made, gravest first."""
    rules = (
        _index,
        _coils,
        _bends,
        _angle,
        _tension,
        _no_tension,
        _loads,
        _margins,
        _temperature,
        _frequency,
        _ends,
        _inches,
        _material,
    )
    found = [f for rule in rules for f in rule(book)]
    return by_severity(
        [
            *found,
            *_wire(book, wire),
            *off_the_axis(book, wire, line, leans),
            *off_the_straight_line(book, line),
            *_fatigue(book, cycle),
        ]
    )


def _wire(book: Handbook, wire: AlongWire) -> Iterator[Finding]:
    for point in book.points:
        along = wire.stressed(point.load)
        for region, (name, _) in PLACES.items():
            margin, other = getattr(along.margin, name), getattr(point.margin, name)
            if margin is not None and margin < 1.0 and not (other is not None and other < 1.0):
                place = Place.of(name, wire.sides(point.load)[region])
                book_says = (
                    word("which judges none") if other is None else q.number(other, places=2)
                )
                yield warning(
                    "overstressed-along-wire",
                    "service.loads",
                    said(
                        "at {load} {place}, is above its allowable along the wire (margin "
                        "{margin}: {times} times what it holds) though not by the handbook "
                        "({book}); {cure}",
                        load=q.force(point.load),
                        place=place.words,
                        margin=q.number(margin, places=2),
                        times=q.number(1 / margin, 3),
                        book=book_says,
                        cure=_cure(name),
                    ),
                )
    tightest = float(wire.unit.kappa.max()) * book.model.body.wire_diameter / 2
    if tightest > TIGHTEST:
        yield note(
            "bend-beyond-data",
            "ends",
            said(
                "the tightest bend has d/2r = {ratio}; stress along the wire is known up to "
                "{known} only and is extrapolated there",
                ratio=q.number(tightest, places=2),
                known=q.number(TIGHTEST),
            ),
        )
    yield from _poisson(book, wire)


def _poisson(book: Handbook, wire: AlongWire) -> Iterator[Finding]:
    nu = book.material.elastic_modulus / (2 * book.material.shear_modulus) - 1
    low, high = USUAL_POISSON
    if low <= nu <= high:
        return
    effect = _effect(wire.poisson_effect())
    yield note(
        "poisson-unusual",
        "wire",
        said(
            "the moduli make Poisson's ratio E/(2G) - 1 = {nu}; stress along the wire is computed "
            "at {usual} and tested from {low} to {high}, and beyond is carried on: here the shift "
            "is {effect}; compare the moduli with the wire maker's",
            nu=q.number(nu, places=2),
            usual=q.number(0.3),
            low=q.number(low),
            high=q.number(high),
            effect=effect,
        ),
    )


def _effect(shifts: Mapping[str, float]) -> Message:
    each = (together(KIND_WORDS[KINDS[k]], q.signed_percent(x)) for k, x in shifts.items())
    return together(*each, by=", ")


def _fatigue(book: Handbook, cycle: Fatigue | None) -> Iterator[Finding]:
    duty = book.model.spec.service.duty
    if duty == "static":
        return
    if cycle is None:
        text = said("duty {duty} needs loads to judge; give two", duty=duty)
        yield note("cycle-missing", "service.loads", text)
    elif cycle.margin is None:
        yield warning("fatigue-unknown", "service.duty", cycle.method)
    elif cycle.margin < 1.0:
        yield warning(
            "fatigue",
            "service.cycles",
            said(
                "{place} has a fatigue factor of {factor}, below 1; lower the load range, use "
                "thicker wire, or a larger bend",
                place=_cycle_place(cycle),
                factor=q.number(cycle.margin, places=2),
            ),
        )


def _index(book: Handbook) -> Iterator[Finding]:
    low, high = limits()["index_usual"]
    index = book.model.body.index
    if not low <= index <= high:
        cure = word("raise the coil diameter") if index < low else word("reduce the coil diameter")
        yield warning(
            "index-unusual",
            "body",
            said(
                "index {index} is outside the usual {low} to {high}; it can be made, with wider "
                "tolerances: {cure}",
                index=q.number(index, 3),
                low=q.number(low),
                high=q.number(high),
                cure=cure,
            ),
        )


def _coils(book: Handbook) -> Iterator[Finding]:
    low, _ = limits()["coils_usual"]
    if book.model.turns < low:
        yield warning(
            "few-coils",
            "body.coils",
            said(
                "{coils} body coils are fewer than the {least} for which EN 13906-2 holds; add "
                "coils",
                coils=q.number(book.model.turns, 3),
                least=q.number(low),
            ),
        )


def _bends(book: Handbook) -> Iterator[Finding]:
    least, _ = limits()["bend_radius_usual"]
    for side in "ab":
        r2 = getattr(book.model.geometry, side).bend_radius
        d = book.model.body.wire_diameter
        if r2 is not None and r2 < least * d * (1 - 1e-9):
            yield warning(
                "bend-radius-small",
                f"ends.{side}.bend_radius",
                said(
                    "{radius} is {ratio} wire diameters, below {least}; a tighter bend breaks "
                    "earlier: enlarge it if it fits",
                    radius=q.length(r2, 4),
                    ratio=q.number(r2 / d, 3),
                    least=q.number(least),
                ),
            )


def _angle(book: Handbook) -> Iterator[Finding]:
    model = book.model
    wanted, built = model.spec.body.coils, model.turns
    if model.spec.ends.angle is not None and model.geometry.angle is None:
        yield note(
            "angle-unused",
            "ends.angle",
            word("an end without a loop has no loop plane; the angle is not used"),
        )
    if abs(built - wanted) > 1e-9:
        yield note(
            "coils-follow-angle",
            "body.coils",
            said(
                "{wanted} coils became {built} so that the loop planes stand at the angle asked "
                "for; leave ends.angle out to keep the coil count to the letter",
                wanted=q.number(wanted, 6),
                built=q.number(built, places=4),
            ),
        )


def _tension(book: Handbook) -> Iterator[Finding]:
    tension = book.initial_tension
    low, high, stress = tension.preferred_low, tension.preferred_high, tension.stress
    if tension.assumed:
        yield note(
            "initial-tension-assumed",
            "body.initial_tension",
            said(
                "not given; the middle of the preferred range was taken: {force} ({stress})",
                force=q.force(tension.force),
                stress=q.stress(stress),
            ),
        )
    if low is not None and high is not None and not low <= stress <= high:
        values = {
            "stress": q.stress(stress),
            "low": q.stress(low, unit=False),
            "high": q.stress(high),
        }
        text = (
            said(
                "{stress} is below the preferred {low} to {high} at this index; coils may not "
                "close evenly: move the tension into the range, or agree it with the maker",
                **values,
            )
            if stress < low
            else said(
                "{stress} is above the preferred {low} to {high} at this index; hard to wind, and "
                "tends to be lost in stress relief: move the tension into the range, or agree it "
                "with the maker",
                **values,
            )
        )
        yield warning("initial-tension-outside-preferred", "body.initial_tension", text)
    if low is None and not book.model.body.is_open:
        yield note(
            "initial-tension-no-range",
            "body.initial_tension",
            said(
                "no preferred range is published for index {index} (4 to 16 only)",
                index=q.number(book.model.body.index, 3),
            ),
        )


def _no_tension(book: Handbook) -> Iterator[Finding]:
    if book.initial_tension.force > 0 and not book.model.material.initial_tension_possible:
        yield warning(
            "initial-tension-impossible",
            "body.initial_tension",
            said(
                "{material} cannot be wound with initial tension; set it to {none}, or choose a "
                "cold-drawn or pretempered wire",
                material=word(book.material.title),
                none=q.force(0.0),
            ),
        )


def _loads(book: Handbook) -> Iterator[Finding]:
    force = book.initial_tension.force
    for point in book.points:
        if point.load <= force and not book.model.body.is_open:
            yield warning(
                "load-below-initial-tension",
                "service.loads",
                said(
                    "{load} does not exceed the initial tension {tension}: hooks give, the coils "
                    "hardly open; raise the load or lower the tension",
                    load=q.force(point.load),
                    tension=q.force(force),
                ),
            )


def _margins(book: Handbook) -> Iterator[Finding]:
    for point in book.points:
        sides = {"hook_bending_a": point.hook_at_a, "hook_torsion_b": point.hook_at_b}
        for name in KINDS:
            margin = getattr(point.margin, name)
            if margin is not None and margin < 1.0:
                yield warning(
                    "overstressed",
                    "service.loads",
                    said(
                        "at {load} {place}, has {stress}, above the allowable {allowable} (margin "
                        "{margin}: {times} times what it holds); {cure}",
                        load=q.force(point.load),
                        place=Place.of(name, sides.get(name)).words,
                        stress=q.stress(getattr(point, name)),
                        allowable=q.stress(getattr(point.allowable, name)),
                        margin=q.number(margin, places=2),
                        times=q.number(1 / margin, 3),
                        cure=_cure(name),
                    ),
                )


def _cycle_place(cycle: Fatigue) -> Message:
    if cycle.place is None or cycle.way is None:
        return word("the cycle")
    return said("{place} ({way})", place=cycle.place.words, way=WAY_WORDS[cycle.way])


def _cure(name: str) -> Message:
    if name == "body_shear":
        return word("use thicker wire or a smaller coil, or lower the load")
    if name == "hook_bending_a":
        return word("use a smaller loop radius or thicker wire, or lower the load")
    return word("enlarge bend_radius, use thicker wire, or lower the load")


def _temperature(book: Handbook) -> Iterator[Finding]:
    yield from temperature_findings(book.model)


def _frequency(book: Handbook) -> Iterator[Finding]:
    forcing = book.model.spec.service.forcing_frequency
    if forcing is None:
        return
    own = book.natural_frequency
    if book.points and not dynamics.coils_open(book.points[0].load, book.initial_tension.force):
        yield note(
            "frequency-closed-coils",
            "service.forcing_frequency",
            word(
                "the natural frequency holds only while the coils are apart, above the initial "
                "tension; the lowest load is not"
            ),
        )
    if own < FREQUENCY_RATIO * forcing:
        yield warning(
            "resonance",
            "service.forcing_frequency",
            said(
                "the spring's own {own} is less than {ratio} times the forcing {forcing}; stiffen "
                "it or use fewer, smaller coils",
                own=q.frequency(own),
                ratio=q.number(FREQUENCY_RATIO),
                forcing=q.frequency(forcing),
            ),
        )


def _ends(book: Handbook) -> Iterator[Finding]:
    for end in (book.model.a, book.model.b):
        shape = getattr(book.model.geometry, end.side)
        if shape.parts:
            yield from _fitted(end, shape)
        elif not end.style.holds_load:
            yield note(
                "no-hook",
                f"ends.{end.side}",
                said(
                    "a {style} carries no load by itself; hook bending and hook torsion do not "
                    "arise there",
                    style=word(end.style.title),
                ),
            )


def _fitted(end: End, shape: EndShape) -> Iterator[Finding]:
    held = together(*(word(part.name) for part in shape.parts), by=", ")
    yield warning(
        "pull-out",
        f"ends.{end.side}",
        said(
            "the strength of the {part}, and the load at which it pulls out of the coils, are not "
            "computed: prove them by test, and secure what may fly off",
            part=held,
        ),
    )
    yield note(
        "held-coils",
        f"ends.{end.side}",
        said(
            "{coils} coils are held by the {part}: they count in all coils, not in the active "
            "ones; no hook of wire is bent or twisted there",
            coils=q.number(shape.gripped_coils),
            part=held,
        ),
    )


def _inches(book: Handbook) -> Iterator[Finding]:
    if book.model.spec.bare:
        yield bare_finding(book.model.spec.bare)
    d = book.model.body.wire_diameter
    if d < THICKEST_GAUGE and sizes.looks_like_inches(d):
        # what was written stands here in mm and in inches, whoever reads it
        text = said(
            "{d} mm is no usual size, but {d} in is; a bare number is in mm: if inches are meant, "
            "write '{d} in'",
            d=f"{d:g}",
        )
        yield note("inches-meant", "wire.diameter", text)


def _material(book: Handbook) -> Iterator[Finding]:
    cyclic = book.model.spec.service.duty == "cyclic"
    yield from book.model.material.caveats(book.model.body.wire_diameter, cyclic)
