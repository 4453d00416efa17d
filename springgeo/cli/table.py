"""Plain-text tables and the short report that commands print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from springgeo.cli import overloaded
from springgeo.cli.rows import rows as rows
from springgeo.findings import Finding
from springgeo.results.along_wire import WirePoint
from springgeo.results.facts import Reached
from springgeo.results.fatigue import Fatigue
from springgeo.results.handbook import WorkingPoint
from springgeo.results.place import KINDS
from springgeo.results.pull import Pull
from springgeo.summary.overload.rows import CAUTION
from springgeo.summary.sections import Told
from springgeo.text import quantity as q
from springgeo.text.shown import PLAIN, Shown

# the temperature that the tables of materials are for, degC
ROOM = 20.0


def report(s: Told, shown: Shown = PLAIN) -> Iterator[str]:
    """Yield the lines of the short report: what it is, what it does, checks, findings."""
    g, t = s.geometry, s.initial_tension
    yield f"{s.name}: {s.material.title}"
    lengths = (
        shown.value(q.length(g.hook_length_first)),
        shown.value(q.length(g.hook_length_second)),
    )
    yield from rows(
        [
            _fact(shown, "wire diameter d", q.length(g.wire_diameter, 4)),
            _fact(shown, "mean diameter D", q.length(g.mean_diameter, 5)),
            _fact(shown, "index D/d", q.number(g.index)),
            _fact(shown, "body coils", q.number(g.body_coils, 5)),
            *_held(s, shown),
            _fact(shown, "body length", q.length(g.body_length)),
            ["hook lengths, first and second end", ", ".join(lengths), shown.unit("length")],
            _fact(shown, "free length inside hooks", q.length(g.free_length)),
            _fact(shown, "wire length", q.length(g.wire_length)),
            _fact(shown, "mass", q.Quantity("mass", g.mass)),
            _fact(shown, "rate, handbook", q.rate(s.rate)),
            _fact(shown, "rate, small load", q.rate(s.rates.small_load)),
            *_between(s, shown),
            *_contact(s, shown),
            _fact(shown, "initial tension", q.force(t.force)),
            _fact(shown, "tensile strength, minimum", q.stress(s.material.tensile_strength)),
            *_law(s),
            *_at_temperature(s, shown),
        ]
    )
    if s.points:
        yield f"working points (stress {shown.unit('stress')}, margin = allowable/stress)"
        points = zip(s.points, s.along_the_wire.points, strict=True)
        each = (row for book, wire in points for row in _pair(book, wire, shown))
        there = (_point("as mounted", p, shown) for p in s.mounted)
        yield from rows([_head(shown), *each, *there])
    if s.verdict is not None:
        yield f"verdict: {shown.text(s.verdict.words)}"
    yield from pull(s.pull, shown)
    if s.overload is not None:
        yield from overloaded.lines(s.overload, shown)
    if s.fatigue is not None:
        yield fatigue(s.fatigue, shown)
    yield f"free length: {free_length(s, shown)}"
    yield checks(s)
    yield from findings(s.findings, shown)
    yield caution(s.cautions)


def _fact(shown: Shown, words: str, quantity: q.Quantity) -> list[str]:
    return [words, shown.value(quantity), shown.unit(quantity.kind)]


def caution(cautions: Sequence[str], shown: Shown = PLAIN) -> str:
    """Return the line of cautions that ends every report."""
    return f"{shown.text(CAUTION)}: {' '.join(cautions)}"


def _law(s: Told) -> Iterator[list[str]]:
    if s.specification.get("wire", {}).get("tensile_law", "table") != "table":
        yield [f"  by {s.material.tensile_source}", "", ""]


def _held(s: Told, shown: Shown) -> Iterator[list[str]]:
    if s.geometry.total_coils > s.geometry.body_coils:
        yield ["all coils, the ends' included", shown.number(s.geometry.total_coils, 5), ""]
        yield ["active coils, handbook", shown.number(s.active_coils, 5), ""]
    if s.parts:
        yield ["parts", ", ".join(part.name for part in s.parts), ""]


def _at_temperature(s: Told, shown: Shown) -> Iterator[list[str]]:
    t = s.temperature
    if t.value == ROOM:
        return
    here = shown.quantity(q.temperature(t.value, 6))
    for words, part in (("moduli", t.modulus_share), ("strength", t.strength_share)):
        known = "not known" if part.value is None else shown.number(part.value)
        yield [f"{words} at {here} over {shown.quantity(q.temperature(ROOM))}", known, ""]


def _head(shown: Shown) -> list[str]:
    return [
        "",
        f"load {shown.unit('force')}",
        f"length {shown.unit('length')}",
        "body",
        "margin",
        "hook bending",
        "margin",
        "hook torsion",
        "margin",
        "least margin at",
    ]


def _pair(book: WorkingPoint, wire: WirePoint, shown: Shown) -> list[list[str]]:
    return [_point("handbook", book, shown), _point("along the wire", wire, shown)]


def _point(way: str, p: WorkingPoint | WirePoint, shown: Shown) -> list[str]:
    def pair(name: str) -> list[str]:
        stress, margin = getattr(p, name), getattr(p.margin, name)
        return [
            "-" if stress is None else shown.value(q.stress(stress, places=0)),
            "-" if margin is None else shown.value(q.factor(margin)),
        ]

    return [
        way,
        shown.value(q.force(p.load)),
        shown.value(q.length(p.length)),
        *pair("body_shear"),
        *pair("hook_bending"),
        *pair("hook_torsion"),
        "-" if p.place is None else p.place.words,
    ]


def pull(p: Pull, shown: Shown = PLAIN) -> Iterator[str]:
    """Yield a table of how far the spring may be pulled, and the travel stop."""
    force, length = shown.unit("force"), shown.unit("length")

    def cells(at: Reached | None) -> list[str]:
        if at is None:
            return ["not known", ""]
        return [shown.value(q.force(at.load)), shown.value(q.length(at.length))]

    yield (
        f"how far it may be pulled (load {force}, length {length}; yield begins between from and "
        "to)"
    )
    head = ["", "allowable at", length, "yield from", length, "to", length]
    lines = [
        [f"{KINDS[name]}, {way}", *cells(x.allowable), *cells(x.yield_from), *cells(x.yield_to)]
        for way, places in (("handbook", p.handbook), ("along the wire", p.along_the_wire))
        for name, x in places.items()
    ]
    yield from rows([head, *lines])
    yield (
        f"travel stop: at {shown.length(p.travel_stop)} or before "
        f"({shown.force(p.travel_stop_load)}), {p.place.words}, {p.way}"
    )
    if p.mounted is not None:
        yield (
            f"travel stop as mounted: at {shown.length(p.mounted.length)} or before "
            f"({shown.force(p.mounted.load)})"
        )
    first = p.first_yield
    if first is not None and p.first_yield_place is not None and first.length < p.travel_stop:
        yield (
            f"yield may begin before, at {shown.length(first.length)} "
            f"({shown.force(first.load)}), {p.first_yield_place.words}, {p.first_yield_way}"
        )


def fatigue(f: Fatigue, shown: Shown = PLAIN) -> str:
    """Return one line on the cycle."""
    factor = "no factor" if f.margin is None else f"least factor {shown.value(q.factor(f.margin))}"
    there = ", as mounted" if f.as_mounted else ""
    place = "no place" if f.place is None else f"{f.place.words}, {f.way}{there}"
    low = shown.value(q.force(f.load_low))
    return f"fatigue: {low} to {shown.force(f.load_high)}, {factor}, {place} [{f.method}]"


def free_length(s: Told, shown: Shown = PLAIN) -> str:
    """Return the free length by every way at hand, with differences."""
    f = s.free_length
    off = shown.value(q.length(f.handbook_difference, places=2, signed=True))
    text = f"model {shown.length(f.model)}, handbook {shown.length(f.handbook)} ({off})"
    if f.full_loops is not None:
        text += f", (2C-1+Nb)d {shown.value(q.length(f.full_loops))}"
    if f.solid is not None:
        wrong = abs(shown.convert("length", f.solid_difference or 0))
        text += f", solid's box {shown.length(f.solid)} (off by {wrong:.0e})"
    return text


def checks(s: Told) -> str:
    """Return one line on the checks."""
    failed = [c.name for c in s.checks if not c.ok]
    if failed:
        return f"checks: FAILED {', '.join(failed)}"
    return f"checks: all {len(s.checks)} passed ({', '.join(c.name for c in s.checks)})"


def findings(found: Sequence[Finding], shown: Shown = PLAIN) -> Iterator[str]:
    """Yield one line per finding; remarks on where data come from are only counted."""
    for f in found:
        if f.topic == "design":
            yield f"{f.severity}: {f.line(shown.text(f.message))}"
    if count := sum(f.topic == "source" for f in found):
        remarks = "1 remark" if count == 1 else f"{count} remarks"
        yield f"note: {remarks} on where the material's data come from: see the report or --json"


def _between(s: Told, shown: Shown) -> list[list[str]]:
    rate = s.rates.between_points
    return [] if rate is None else [_fact(shown, "rate between working points", q.rate(rate))]


def _contact(s: Told, shown: Shown) -> list[list[str]]:
    last = None if s.contact is None else s.contact.last_parts_at
    return [] if last is None else [_fact(shown, "last coils part at", q.force(last))]
