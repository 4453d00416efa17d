"""Warnings and notes by the rules of the trade: one function per subject."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.ends.protocol import EndShape
from springgeo.findings import Finding, by_severity, note, warning
from springgeo.materials import sizes
from springgeo.mechanics import dynamics
from springgeo.results.place import KINDS, Place
from springgeo.results.summary import Fatigue
from springgeo.spring.model import End
from springgeo.summary.handbook import Handbook
from springgeo.summary.temperature import temperature_findings
from springgeo.summary.wire import PLACES, AlongWire
from springgeo.trade.limits import limits
from springgeo.trade.practice import practice

FREQUENCY_RATIO = practice("frequency_ratio")
# no gauge has more inches
THICKEST_GAUGE = 0.5
# up to which wire radius over bend radius the stress distribution was computed
TIGHTEST = practice("smoothest_bend")
# within which Poisson's ratio of the moduli draws no remark
USUAL_POISSON = practice("poisson_low"), practice("poisson_high")


def advice(book: Handbook, wire: AlongWire, cycle: Fatigue | None) -> tuple[Finding, ...]:
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
    return by_severity([*found, *_wire(book, wire), *_fatigue(book, cycle)])


def _wire(book: Handbook, wire: AlongWire) -> Iterator[Finding]:
    for point in book.points:
        along = wire.point(point.load)
        for region, (name, _) in PLACES.items():
            margin, other = getattr(along.margin, name), getattr(point.margin, name)
            if margin is not None and margin < 1.0 and not (other is not None and other < 1.0):
                place = Place.of(name, wire.sides[region])
                book_says = "which judges none" if other is None else f"{other:.2f}"
                yield warning(
                    "overstressed-along-wire",
                    "service.loads",
                    f"at {point.load:.4g} N {place.words}, is above its allowable along the wire "
                    f"(margin {margin:.2f}: {_times(margin)}) though not by the handbook "
                    f"({book_says}); " + _cure(name),
                )
    tightest = float(wire.unit.kappa.max()) * book.model.body.diameter / 2
    if tightest > TIGHTEST:
        yield note(
            "bend-beyond-data",
            "ends",
            f"the tightest bend has d/2r = {tightest:.2f}; stress along the wire is known up to "
            f"{TIGHTEST:g} only and is extrapolated there",
        )
    yield from _poisson(book, wire)
    difference = 100 * (wire.rate / book.rate - 1)
    if abs(difference) > 3:
        yield note(
            "rate-differs",
            "rate",
            f"{wire.rate:.5g} N/mm along the wire is "
            f"{difference:+.1f} % from the handbook's {book.rate:.5g} N/mm: the hooks' "
            "own give; believe the former",
        )


def _poisson(book: Handbook, wire: AlongWire) -> Iterator[Finding]:
    nu = book.material.elastic_modulus / (2 * book.material.shear_modulus) - 1
    low, high = USUAL_POISSON
    if low <= nu <= high:
        return
    effect = ", ".join(f"{KINDS[k]} {v:+.1f} %" for k, v in wire.poisson_effect().items())
    yield note(
        "poisson-unusual",
        "wire",
        f"the moduli make Poisson's ratio E/(2G) - 1 = {nu:.2f}; stress along the wire is "
        f"computed at 0.3 and tested from {low:g} to {high:g}, and beyond is carried on: here "
        f"the shift is {effect}; compare the moduli with the wire maker's",
    )


def _fatigue(book: Handbook, cycle: Fatigue | None) -> Iterator[Finding]:
    duty = book.model.spec.service.duty
    if duty == "static":
        return
    if cycle is None:
        yield note("cycle-missing", "service.loads", f"duty {duty} needs loads to judge; give two")
    elif cycle.margin is None:
        yield warning("fatigue-unknown", "service.duty", cycle.method)
    elif cycle.margin < 1.0:
        yield warning(
            "fatigue",
            "service.cycles",
            f"{_cycle_place(cycle)} has a fatigue factor of {cycle.margin:.2f}, below 1; "
            "lower the load range, use thicker wire, or a larger bend",
        )


def _index(book: Handbook) -> Iterator[Finding]:
    low, high = limits()["index_usual"]
    index = book.model.body.index
    if not low <= index <= high:
        advice_text = "raise the coil diameter" if index < low else "reduce the coil diameter"
        yield warning(
            "index-unusual",
            "body",
            f"index {index:.3g} is outside the usual "
            f"{low:g} to {high:g}; it can be made, with wider tolerances: "
            f"{advice_text}",
        )


def _coils(book: Handbook) -> Iterator[Finding]:
    low, _ = limits()["coils_usual"]
    if book.model.turns < low:
        yield warning(
            "few-coils",
            "body.coils",
            f"{book.model.turns:.3g} body coils are fewer "
            f"than the {low:g} for which EN 13906-2 holds; add coils",
        )


def _bends(book: Handbook) -> Iterator[Finding]:
    least, _ = limits()["bend_radius_usual"]
    for side in "ab":
        r2 = getattr(book.model.geometry, side).bend_radius
        d = book.model.body.diameter
        if r2 is not None and r2 < least * d * (1 - 1e-9):
            yield warning(
                "bend-radius-small",
                f"ends.{side}.bend_radius",
                f"{r2:.4g} mm is {r2 / d:.3g} wire diameters, below {least:g}; a "
                "tighter bend breaks earlier: enlarge it if it fits",
            )


def _angle(book: Handbook) -> Iterator[Finding]:
    model = book.model
    wanted, built = model.spec.body.coils, model.turns
    if model.spec.ends.angle is not None and model.geometry.angle is None:
        yield note(
            "angle-unused",
            "ends.angle",
            "an end without a loop has no loop plane; the angle is not used",
        )
    if abs(built - wanted) > 1e-9:
        yield note(
            "coils-follow-angle",
            "body.coils",
            f"{wanted:g} coils became {built:.4f} so that the loop planes stand at the "
            "angle asked for; leave ends.angle out to keep the coil count to the letter",
        )


def _tension(book: Handbook) -> Iterator[Finding]:
    tension = book.initial_tension
    low, high, stress = tension.preferred_low, tension.preferred_high, tension.stress
    if tension.assumed:
        yield note(
            "initial-tension-assumed",
            "body.initial_tension",
            f"not given; the middle of the preferred range was taken: "
            f"{tension.force:.4g} N ({stress:.4g} MPa)",
        )
    if low is not None and high is not None and not low <= stress <= high:
        where = "below" if stress < low else "above"
        remark = (
            "coils may not close evenly"
            if stress < low
            else "hard to wind, and tends to be lost in stress relief"
        )
        yield warning(
            "initial-tension-outside-preferred",
            "body.initial_tension",
            f"{stress:.4g} MPa is {where} the preferred {low:.4g} to {high:.4g} MPa "
            f"at this index; {remark}: move the tension into the range, or agree it "
            "with the maker",
        )
    if low is None and not book.model.body.is_open:
        yield note(
            "initial-tension-no-range",
            "body.initial_tension",
            f"no preferred range is published for index {book.model.body.index:.3g} (4 to 16 only)",
        )


def _no_tension(book: Handbook) -> Iterator[Finding]:
    if book.initial_tension.force > 0 and not book.model.material.initial_tension_possible:
        yield warning(
            "initial-tension-impossible",
            "body.initial_tension",
            f"{book.material.title} cannot be wound with initial tension; set it to 0 N, or "
            "choose a cold-drawn or pretempered wire",
        )


def _loads(book: Handbook) -> Iterator[Finding]:
    force = book.initial_tension.force
    for point in book.points:
        if point.load <= force and not book.model.body.is_open:
            yield warning(
                "load-below-initial-tension",
                "service.loads",
                f"{point.load:.4g} N does not exceed the initial tension "
                f"{force:.4g} N; the spring does not move: raise the load or lower "
                "the tension",
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
                    f"at {point.load:.4g} N {Place.of(name, sides.get(name)).words}, has "
                    f"{getattr(point, name):.4g} MPa, above the allowable "
                    f"{getattr(point.allowable, name):.4g} MPa (margin {margin:.2f}: "
                    f"{_times(margin)}); " + _cure(name),
                )


def _times(margin: float) -> str:
    return f"{1 / margin:.3g} times what it holds"


def _cycle_place(cycle: Fatigue) -> str:
    return "the cycle" if cycle.place is None else f"{cycle.place.words} ({cycle.way})"


def _cure(name: str) -> str:
    if name == "body_shear":
        return "use thicker wire or a smaller coil, or lower the load"
    if name == "hook_bending_a":
        return "use a smaller loop radius or thicker wire, or lower the load"
    return "enlarge bend_radius, use thicker wire, or lower the load"


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
            "the natural frequency holds only while the coils are apart, above the "
            "initial tension; the lowest load is not",
        )
    if own < FREQUENCY_RATIO * forcing:
        yield warning(
            "resonance",
            "service.forcing_frequency",
            f"the spring's own {own:.4g} Hz is less than {FREQUENCY_RATIO:g} times "
            f"the forcing {forcing:.4g} Hz; stiffen it or use fewer, smaller coils",
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
                f"a {end.style.title} carries no load by "
                "itself; hook bending and hook torsion do not arise there",
            )


def _fitted(end: End, shape: EndShape) -> Iterator[Finding]:
    held = ", ".join(part.name for part in shape.parts)
    yield warning(
        "pull-out",
        f"ends.{end.side}",
        f"the strength of the {held}, and the load at which it pulls out of the coils, are not "
        "computed: prove them by test, and secure what may fly off",
    )
    yield note(
        "held-coils",
        f"ends.{end.side}",
        f"{shape.gripped_coils:.4g} coils are held by the {held}: they count in all coils, not in "
        "the active ones; no hook of wire is bent or twisted there",
    )


def _inches(book: Handbook) -> Iterator[Finding]:
    d = book.model.body.diameter
    if d < THICKEST_GAUGE and sizes.looks_like_inches(d):
        text = (
            f"{d:g} mm is no usual size, but {d:g} in is; a bare number is in mm: if inches are "
            f"meant, write '{d:g} in'"
        )
        yield note("inches-meant", "wire.diameter", text)


def _material(book: Handbook) -> Iterator[Finding]:
    cyclic = book.model.spec.service.duty == "cyclic"
    yield from book.model.material.caveats(book.model.body.diameter, cyclic)
