"""Plain-text tables and the short report that commands print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from springgeo.findings import Finding
from springgeo.results.place import KINDS
from springgeo.results.summary import Fatigue, Pull, Reached, WirePoint, WorkingPoint
from springgeo.summary import Summary
from springgeo.text.figures import figures, millimetres


def rows(table: Sequence[Sequence[str]], indent: str = "  ") -> Iterator[str]:
    """Yield aligned lines; the first column is text, the others stand to the right."""
    widths = [max(len(row[i]) for row in table) for i in range(len(table[0]))]
    for row in table:
        cells = [
            c.ljust(w) if i == 0 else c.rjust(w)
            for i, (c, w) in enumerate(zip(row, widths, strict=True))
        ]
        yield (indent + "  ".join(cells)).rstrip()


def report(s: Summary) -> Iterator[str]:
    """Yield the lines of the short report: what it is, what it does, checks, findings."""
    g, t = s.geometry, s.initial_tension
    yield f"{s.name}: {s.material.title}"
    yield from rows(
        [
            ["wire diameter d", f"{g.wire_diameter:.4g}", "mm"],
            ["mean diameter D", f"{g.mean_diameter:.5g}", "mm"],
            ["index D/d", f"{g.index:.4g}", ""],
            ["body coils", f"{g.body_coils:.5g}", ""],
            *_held(s),
            ["body length", millimetres(g.body_length), "mm"],
            [
                "hook lengths, first and second end",
                f"{millimetres(g.hook_length_a)}, {millimetres(g.hook_length_b)}",
                "mm",
            ],
            ["free length inside hooks", millimetres(g.free_length), "mm"],
            ["wire length", millimetres(g.wire_length), "mm"],
            ["mass", f"{1e3 * g.mass:.4g}", "g"],
            ["rate, handbook", figures(s.rate), "N/mm"],
            ["rate, along the wire", figures(s.along_the_wire.rate), "N/mm"],
            ["initial tension", f"{t.force:.4g}", "N"],
            ["tensile strength, minimum", figures(s.material.tensile_strength), "MPa"],
            *_law(s),
            *_at_temperature(s),
        ]
    )
    if s.points:
        yield "working points (stress MPa, margin = allowable/stress)"
        yield from rows(
            [
                _HEAD,
                *(
                    row
                    for pair in zip(s.points, s.along_the_wire.points, strict=True)
                    for row in _pair(*pair)
                ),
            ]
        )
    if s.verdict is not None:
        yield f"verdict: {s.verdict.words}"
    yield from pull(s.pull)
    if s.fatigue is not None:
        yield fatigue(s.fatigue)
    yield f"free length: {free_length(s)}"
    yield checks(s)
    yield from findings(s.findings)
    yield caution(s.cautions)


def caution(cautions: Sequence[str]) -> str:
    """Return the line of cautions that ends every report."""
    return f"Caution: {' '.join(cautions)}"


def _law(s: Summary) -> Iterator[list[str]]:
    if s.specification.get("wire", {}).get("tensile_law", "table") != "table":
        yield [f"  by {s.material.tensile_source}", "", ""]


def _held(s: Summary) -> Iterator[list[str]]:
    if s.geometry.total_coils > s.geometry.body_coils:
        yield ["all coils, the ends' included", f"{s.geometry.total_coils:.5g}", ""]
        yield ["active coils, handbook", f"{s.active_coils:.5g}", ""]
    if s.parts:
        yield ["parts", ", ".join(part.name for part in s.parts), ""]


def _at_temperature(s: Summary) -> Iterator[list[str]]:
    t = s.temperature
    if t.value == 20.0:
        return
    for words, part in (("moduli", t.modulus_share), ("strength", t.strength_share)):
        known = "not known" if part.value is None else f"{part.value:.4g}"
        yield [f"{words} at {t.value:g} degC over 20 degC", known, ""]


_HEAD = [
    "",
    "load N",
    "length mm",
    "body",
    "margin",
    "hook bending",
    "margin",
    "hook torsion",
    "margin",
    "least margin at",
]


def _pair(book: WorkingPoint, wire: WirePoint) -> list[list[str]]:
    return [_point("handbook", book), _point("along the wire", wire)]


def _point(way: str, p: WorkingPoint | WirePoint) -> list[str]:
    def pair(name: str) -> list[str]:
        stress, margin = getattr(p, name), getattr(p.margin, name)
        return [
            "-" if stress is None else f"{stress:.0f}",
            "-" if margin is None else f"{margin:.2f}",
        ]

    return [
        way,
        f"{p.load:.4g}",
        millimetres(p.length),
        *pair("body_shear"),
        *pair("hook_bending_a"),
        *pair("hook_torsion_b"),
        "-" if p.place is None else p.place.words,
    ]


def pull(p: Pull) -> Iterator[str]:
    """Yield a table of how far the spring may be pulled, and the travel stop."""

    def cells(at: Reached | None) -> list[str]:
        return ["not known", ""] if at is None else [figures(at.load), millimetres(at.length)]

    yield "how far it may be pulled (load N, length mm; yield begins between from and to)"
    head = ["", "allowable at", "mm", "yield from", "mm", "to", "mm"]
    lines = [
        [f"{KINDS[name]}, {way}", *cells(q.allowable), *cells(q.yield_from), *cells(q.yield_to)]
        for way, places in (("handbook", p.handbook), ("along the wire", p.along_the_wire))
        for name, q in places.items()
    ]
    yield from rows([head, *lines])
    yield (
        f"travel stop: at {millimetres(p.travel_stop)} mm or before "
        f"({figures(p.travel_stop_load)} N), {p.place.words}, {p.way}"
    )
    first = p.first_yield
    if first is not None and p.first_yield_place is not None and first.length < p.travel_stop:
        yield (
            f"yield may begin before, at {millimetres(first.length)} mm "
            f"({figures(first.load)} N), {p.first_yield_place.words}, {p.first_yield_way}"
        )


def fatigue(f: Fatigue) -> str:
    """Return one line on the cycle."""
    factor = "no factor" if f.margin is None else f"least factor {f.margin:.2f}"
    place = "no place" if f.place is None else f"{f.place.words}, {f.way}"
    return f"fatigue: {f.load_low:.4g} to {f.load_high:.4g} N, {factor}, {place} [{f.method}]"


def free_length(s: Summary) -> str:
    """Return the free length by every way at hand, with differences."""
    f = s.free_length
    off = f"{f.handbook_difference:+.2f}"
    text = f"model {millimetres(f.model)} mm, handbook {millimetres(f.handbook)} ({off})"
    if f.full_loops is not None:
        text += f", (2C-1+Nb)d {millimetres(f.full_loops)}"
    if f.solid is not None:
        text += f", solid's box {millimetres(f.solid)} (off by {abs(f.solid_difference or 0):.0e})"
    return text


def checks(s: Summary) -> str:
    """Return one line on the checks."""
    failed = [c.name for c in s.checks if not c.ok]
    if failed:
        return f"checks: FAILED {', '.join(failed)}"
    return f"checks: all {len(s.checks)} passed ({', '.join(c.name for c in s.checks)})"


def findings(found: Sequence[Finding]) -> Iterator[str]:
    """Yield one line per finding; remarks on where data come from are only counted."""
    for f in found:
        if f.topic == "design":
            yield f"{f.severity}: {f.line()}"
    if count := sum(f.topic == "source" for f in found):
        remarks = "1 remark" if count == 1 else f"{count} remarks"
        yield f"note: {remarks} on where the material's data come from: see the report or --json"
