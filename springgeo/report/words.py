"""The first thing a reader sees: the verdict in a sentence, and six numbers."""

from __future__ import annotations

from springgeo.fit import FitReport
from springgeo.report.html import Markup
from springgeo.report.value import Values
from springgeo.summary import Summary


def verdict(s: Summary, fit: FitReport | None = None) -> tuple[str, Markup]:
    """Return ``good``, ``care`` or ``bad``, and the verdict as HTML."""
    kind, words = _strength(s)
    if fit is None:
        return kind, words
    if not fit.ok:
        return "bad", words + Markup(' <a href="#fit">It does not fit its mating parts.</a>')
    return kind, words + Markup(' It <a href="#fit">fits</a> its mating parts.')


def _strength(s: Summary) -> tuple[str, Markup]:
    warnings = sum(f.severity != "note" for f in s.findings)
    failed = [c.name for c in s.checks if not c.ok]
    if failed:
        return "bad", Markup("A check on the shape failed: {}.").format(", ".join(failed))
    rest = _remarks(warnings)
    if s.verdict is None:
        return ("care" if warnings else "good"), "No working loads are given. " + rest
    words = Markup.escape(s.verdict.words[:1].upper() + s.verdict.words[1:])
    for shown in ("Holds", "NOT JUDGED", "FAILS"):
        loud = Markup("<strong>{}</strong>").format(shown.capitalize())
        words = words.replace(shown, loud, 1)
    factor = None if s.fatigue is None else s.fatigue.margin
    cycle = "" if factor is None else f"Fatigue: least factor {factor:.2f}. "
    held = {"fails": "bad", "not judged": "care", "holds": "care" if warnings else "good"}
    return held[s.verdict.outcome], words + f". {cycle}" + rest


def _remarks(warnings: int) -> Markup:
    if not warnings:
        return Markup("No warnings.")
    count = "One warning" if warnings == 1 else f"{warnings} warnings"
    return Markup('<a href="#findings">{}, see the findings.</a>').format(count)


def glance(s: Summary, v: Values) -> list[tuple[str, Markup]]:
    """Return the numbers of the heading and what they are."""
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
    return rows
