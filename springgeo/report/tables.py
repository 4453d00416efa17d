"""The report's tables: every number an element that names its place in the summary."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from springgeo.findings import Finding
from springgeo.report.html import Markup, render
from springgeo.report.value import Values, united
from springgeo.results.place import KINDS
from springgeo.summary import Summary
from springgeo.text.words import piece_words, subject

# the vocabulary of every output; the handbooks' letters stand in the caption alone
PLACES: dict[str, str] = dict(KINDS)
SEVERITY = {"error": "Error", "warning": "Warning", "note": "Note"}


def table(
    caption: str, head: Sequence[str], rows: Iterable[Sequence[str]], words: Sequence[int] = ()
) -> Markup:
    """Return a table that scrolls sideways by itself where it must; a head breaks at newlines.

    ``words``: which columns beside the first hold text, and so stand to the left.
    """
    return render("table", caption=caption, head=head, rows=rows, words=words)


def key_facts(s: Summary, v: Values) -> Markup:
    """Return what the spring is, as a list of terms and values."""
    rows = [
        ("wire diameter d", v("geometry.wire_diameter", "mm")),
        ("mean diameter D", v("geometry.mean_diameter", "mm")),
        (
            "outer / inner diameter",
            v("geometry.outer_diameter") + " / " + v("geometry.inner_diameter", "mm"),
        ),
        ("index D/d", v("geometry.index")),
        ("body coils", v("geometry.body_coils") + f", {s.geometry.hand} hand"),
        ("body length", v("geometry.body_length", "mm")),
        (
            "hook lengths, first / second end",
            v("geometry.hook_length_a") + " / " + v("geometry.hook_length_b", "mm"),
        ),
        ("free length inside hooks", v("geometry.free_length", "mm")),
        ("overall length", v("geometry.overall_length", "mm")),
        ("angle between loops", v("geometry.loop_angle", "°")),
        ("wire length", v("geometry.wire_length", "mm")),
        ("mass", v("geometry.mass", "g", scale=1e3)),
        ("initial tension", v("initial_tension.force", "N", 3)),
        ("tensile strength, minimum", v("material.tensile_strength", "MPa")),
        ("shear modulus", v("material.shear_modulus", "MPa")),
        ("service temperature", v("temperature.value", "°C")),
        ("natural frequency, both ends held", v("dynamics.natural_frequency_both_held", "Hz", 3)),
        ("energy stored at the highest load", v("dynamics.stored_energy", "mJ", 3)),
    ]
    return render("terms", rows=rows)


def points_table(s: Summary, v: Values) -> Markup:
    """Return handbook and along-the-wire results side by side for every working point."""
    head = ["load\nN", "way", "length\nmm"]
    for words in PLACES.values():
        head += [f"{words}\nMPa", "margin"]
    rows = []
    for i in range(len(s.points)):
        for way, path in (("handbook", "points"), ("along the wire", "along_the_wire.points")):
            row = [v(f"{path}.{i}.load"), way, v(f"{path}.{i}.length", places=2)]
            for name in PLACES:
                row.append(v(f"{path}.{i}.{name}", digits=3))
                row.append(_margin(v, f"{path}.{i}.margin.{name}"))
            rows.append(row)
    caption = (
        "Stress at the working points; margin is allowable over stress. Hook bending and hook "
        "torsion are the handbooks' points A and B, at the end where they are greater"
    )
    return table(caption, head, rows, words=(1,))


def _margin(v: Values, path: str) -> Markup:
    value = v.at(path)
    cell = v(path, places=2)
    low = value is not None and value < 1
    return Markup('<strong class="low">{} ✕</strong>').format(cell) if low else cell


def peaks_table(s: Summary, v: Values) -> Markup:
    """Return where the wire is stressed most, per newton, for every region."""
    kinds = ("shear", "axial", "von_mises")
    regions = {"body": "body", "A": "loop", "B": "bend", "elsewhere": "straight wire"}
    at = {
        (p.region, p.kind): f"along_the_wire.peaks.{i}"
        for i, p in enumerate(s.along_the_wire.peaks)
    }
    rows = [
        [
            words,
            *(
                cell
                for kind in kinds
                for cell in (
                    v(f"{at[name, kind]}.per_newton", digits=3),
                    _piece(v, at[name, kind]),
                )
            ),
        ]
        for name, words in regions.items()
        if (name, "shear") in at
    ]
    head = ["region"]
    for words in ("shear", "bending", "von Mises"):
        head += [f"{words}\nMPa per N", "in, from the\nfirst end's cut"]
    return table("Greatest stress of each region, and where", head, rows, words=(2, 4, 6))


def _piece(v: Values, path: str) -> Markup:
    where = v(f"{path}.s", "mm", places=1)
    return Markup("{}, {}").format(piece_words(v.at(f"{path}.label")), where)


def ways_table(s: Summary, v: Values) -> Markup:
    """Return free length and rate by every way at hand."""
    rows = [
        ["free length, model", v("free_length.model", "mm", places=3)],
        ["free length, handbook (N + 1) d and hooks", v("free_length.handbook", "mm", places=3)],
    ]
    if s.free_length.full_loops is not None:
        rows.append(["free length, (2C − 1 + N) d", v("free_length.full_loops", "mm", places=3)])
    rows.append(["rate, along the wire", v("along_the_wire.rate", "N/mm")])
    rows += [
        [f"rate, {name}", v(f"rate_conventions.{name}.rate", "N/mm")] for name in s.rate_conventions
    ]
    return table("Free length and rate by several ways", ["way", "value"], rows)


def compliance_table(s: Summary) -> Markup:
    """Return which piece of wire gives how much of the deflection."""
    whole = sum(s.along_the_wire.compliance.values())
    rows = [
        [label, f"{100 * value / whole:.1f}\u00a0%"]
        for label, value in s.along_the_wire.compliance.items()
    ]
    return table("Share of the deflection", ["piece of wire", "share"], rows)


def fatigue_table(s: Summary, v: Values) -> Markup:
    """Return the cycle's stresses and safety factors by both ways."""
    assert s.fatigue is not None
    factors = ("factor", "gerber", "goodman", "yielding", "life_table")
    rows = []
    for way, path in (("handbook", "handbook"), ("along the wire", "along_the_wire")):
        for name in getattr(s.fatigue, path):
            at = f"fatigue.{path}.{name}"
            rows.append(
                [
                    PLACES[name],
                    way,
                    v(f"{at}.mean", digits=3),
                    v(f"{at}.alternating", digits=3),
                    *(v(f"{at}.{k}", places=2) for k in factors),
                ]
            )
    head = [
        "place",
        "way",
        "mean\nMPa",
        "alternating\nMPa",
        "factor",
        "for ever,\nGerber",
        "for ever,\nGoodman",
        "factor,\nyielding",
        "factor,\nlife table",
    ]
    return table("The cycle", head, rows, words=(1,))


def pull_table(s: Summary, v: Values) -> Markup:
    """Return load and length at which each place reaches its allowable, and yields."""
    rows = []
    for way, path in (("handbook", "handbook"), ("along the wire", "along_the_wire")):
        for name, place in getattr(s.pull, path).items():
            at = f"pull.{path}.{name}"
            row = [PLACES[name], way]
            for end in ("allowable", "yield_from", "yield_to"):
                if getattr(place, end) is None:
                    row += ["not known", ""]
                else:
                    row += [v(f"{at}.{end}.load", digits=3), v(f"{at}.{end}.length", places=2)]
            rows.append(row)
    head = ["place", "way", "allowable at\nN", "mm", "yield from\nN", "mm", "to\nN", "mm"]
    return table("How far it may be pulled", head, rows, words=(1,))


def findings_list(findings: Sequence[Finding]) -> Markup:
    """Return findings, gravest first, in words."""
    return render(
        "findings",
        findings=[
            {
                "severity": f.severity,
                "title": SEVERITY[f.severity],
                "subject": _capital(subject(f.field)),
                "sentence": _sentence(f.message),
                "field": f.field,
                "code": f.code,
            }
            for f in findings
        ],
    )


def _sentence(text: str) -> str:
    return text + ("" if text.endswith(".") else ".")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def checks_table(s: Summary) -> Markup:
    """Return what was checked on the centreline."""
    if not s.checks:
        return Markup("<p>No check was run.</p>")
    rows = [
        [
            c.what,
            _small(c.value, c.unit),
            _small(c.bound, c.unit),
            "passed" if c.ok else Markup('<strong class="low">FAILED</strong>'),
        ]
        for c in s.checks
    ]
    return table("Checks on the centreline", ["what", "found", "bound", "verdict"], rows)


def _small(x: float, unit: str) -> Markup:
    text = f"{x:.2g}" if abs(x) < 0.01 else f"{x:.5g}"
    text = text.replace("-", "−")
    return text + united(unit)
