"""The first thing a reader sees: the verdict in a sentence, and six numbers."""

from __future__ import annotations

from springgeo.fit import FitReport
from springgeo.report.value import Values, escaped
from springgeo.summary import Summary


def verdict(s: Summary, fit: FitReport | None = None) -> tuple[str, str]:
    """Return ``good``, ``care`` or ``bad``, and the verdict as HTML."""
    kind, words = _strength(s)
    if fit is None:
        return kind, words
    if not fit.ok:
        return "bad", f'{words} <a href="#fit">It does not fit its mating parts.</a>'
    return kind, f'{words} It <a href="#fit">fits</a> its mating parts.'


def _strength(s: Summary) -> tuple[str, str]:
    warnings = sum(f.severity != "note" for f in s.findings)
    failed = [c.name for c in s.checks if not c.ok]
    if failed:
        return "bad", f"A check on the shape failed: {escaped(', '.join(failed))}."
    rest = _remarks(warnings)
    if s.verdict is None:
        return ("care" if warnings else "good"), f"No working loads are given. {rest}"
    words = escaped(s.verdict.words)
    words = f"{words[:1].upper()}{words[1:]}"
    for shown in ("Holds", "NOT JUDGED", "FAILS"):
        words = words.replace(shown, f"<strong>{shown.capitalize()}</strong>", 1)
    factor = None if s.fatigue is None else s.fatigue.margin
    cycle = "" if factor is None else f"Fatigue: least factor {factor:.2f}. "
    held = {"fails": "bad", "not judged": "care", "holds": "care" if warnings else "good"}
    return held[s.verdict.outcome], f"{words}. {cycle}{rest}"


def _remarks(warnings: int) -> str:
    if not warnings:
        return "No warnings."
    count = "One warning" if warnings == 1 else f"{warnings} warnings"
    return f'<a href="#findings">{count}, see the findings.</a>'


def glance(s: Summary, v: Values) -> str:
    """Return the numbers of the heading."""
    rows = [
        ("free length inside hooks", v("geometry.free_length", "mm")),
        ("rate", v("along_the_wire.rate", "N/mm", 3)),
        ("initial tension", v("initial_tension.force", "N", 3)),
        (
            "wire and coil d × D",
            v("geometry.wire_diameter", digits=3) + " × " + v("geometry.mean_diameter", "mm"),
        ),
        ("body coils", v("geometry.body_coils")),
    ]
    if s.points:
        last = len(s.points) - 1
        rows.append(
            (
                "longest working point",
                v(f"points.{last}.load", "N", 3)
                + " at "
                + v(f"along_the_wire.points.{last}.length", "mm"),
            )
        )
    items = "".join(f"<div><dt>{k}</dt><dd>{x}</dd></div>" for k, x in rows)
    return f'<dl class="glance">{items}</dl>'
