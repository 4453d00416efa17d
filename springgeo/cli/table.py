"""Plain-text tables and the short report that commands print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from springgeo.findings import Finding
from springgeo.results.summary import Fatigue, WirePoint, WorkingPoint
from springgeo.summary import Summary

_NAMES = {
    "body_shear": "body",
    "hook_bending_a": "A, hook bend",
    "hook_torsion_b": "B, hook twist",
    "none": "-",
}


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
            ["body length", f"{g.body_length:.5g}", "mm"],
            ["hook lengths A, B", f"{g.hook_length_a:.5g}, {g.hook_length_b:.5g}", "mm"],
            ["free length inside hooks", f"{g.free_length:.6g}", "mm"],
            ["wire length", f"{g.wire_length:.6g}", "mm"],
            ["mass", f"{1e3 * g.mass:.4g}", "g"],
            ["rate, handbook", f"{s.rate:.5g}", "N/mm"],
            ["rate, along the wire", f"{s.along_the_wire.rate:.5g}", "N/mm"],
            ["initial tension", f"{t.force:.4g}", "N"],
            ["tensile strength, minimum", f"{s.material.tensile_strength:.5g}", "MPa"],
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
        yield f"verdict: {s.along_the_wire.points[-1].verdict} (along the wire, highest load)"
    if s.fatigue is not None:
        yield fatigue(s.fatigue)
    yield f"free length: {free_length(s)}"
    yield checks(s)
    yield from findings(s.findings)
    yield f"Caution: {s.cautions[0]} {s.cautions[1]}"


def _held(s: Summary) -> Iterator[list[str]]:
    if s.geometry.total_coils > s.geometry.body_coils:
        yield ["all coils, the ends' included", f"{s.geometry.total_coils:.5g}", ""]
        yield ["active coils, handbook", f"{s.active_coils:.5g}", ""]
    if s.parts:
        yield ["parts", ", ".join(part.name for part in s.parts), ""]


_HEAD = [
    "",
    "load N",
    "length mm",
    "body",
    "margin",
    "A bend",
    "margin",
    "B twist",
    "margin",
    "least margin",
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
        f"{p.length:.5g}",
        *pair("body_shear"),
        *pair("hook_bending_a"),
        *pair("hook_torsion_b"),
        _NAMES[p.governing],
    ]


def fatigue(f: Fatigue) -> str:
    """Return one line on the cycle."""
    factor = "no factor" if f.margin is None else f"least factor {f.margin:.2f}"
    place = f.governing
    for name, words in _NAMES.items():
        place = place.replace(name, words)
    return f"fatigue: {f.load_low:.4g} to {f.load_high:.4g} N, {factor}, {place} [{f.method}]"


def free_length(s: Summary) -> str:
    """Return the free length by every way at hand, with differences."""
    f = s.free_length
    text = f"model {f.model:.5f} mm, handbook {f.handbook:.5f} ({f.handbook_difference:+.5f})"
    if f.full_loops is not None:
        text += f", (2C-1+Nb)d {f.full_loops:.5f}"
    if f.solid is not None:
        text += f", solid's box {f.solid:.5f} ({f.solid_difference:+.1e})"
    return text


def checks(s: Summary) -> str:
    """Return one line on the checks."""
    failed = [c.name for c in s.checks if not c.ok]
    if failed:
        return f"checks: FAILED {', '.join(failed)}"
    return f"checks: all {len(s.checks)} passed ({', '.join(c.name for c in s.checks)})"


def findings(found: Sequence[Finding]) -> Iterator[str]:
    """Yield one line per finding."""
    for f in found:
        yield f"{f.severity}: {f.line()}"
