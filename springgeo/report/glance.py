"""The first thing a reader sees: the verdict in a sentence, and six numbers."""

from __future__ import annotations

from springgeo.fit import FitReport
from springgeo.report.html import Markup
from springgeo.report.value import Values
from springgeo.summary import Summary
from springgeo.text.shown import word


def verdict(s: Summary, v: Values, fit: FitReport | None = None) -> tuple[str, Markup]:
    """Return ``good``, ``care`` or ``bad``, and the verdict as HTML."""
    kind, words = _strength(s, v)
    if fit is None:
        return kind, words
    link = Markup(' <a href="#fit">{}</a>')
    if not fit.ok:
        return "bad", words + link.format(v.say("It does not fit its mating parts."))
    return kind, words + link.format(v.say("It fits its mating parts."))


def _strength(s: Summary, v: Values) -> tuple[str, Markup]:
    warnings = sum(f.severity != "note" for f in s.findings)
    failed = [c.name for c in s.checks if not c.ok]
    if failed:
        return "bad", v.html("A check on the shape failed: {names}.", names=", ".join(failed))
    rest = _remarks(warnings, v)
    if s.verdict is None:
        return ("care" if warnings else "good"), v.html("No working loads are given.") + " " + rest
    told = v.text(s.verdict.words)
    words = Markup.escape(told[:1].upper() + told[1:])
    for plain, loud in _LOUD.items():
        strong = Markup("<strong>{}</strong>").format(v.text(loud))
        words = words.replace(v.text(plain), strong, 1)
    factor = None if s.fatigue is None else s.fatigue.margin
    cycle = (
        ""
        if factor is None
        else v.html("Fatigue: least factor {factor}.", factor=v("fatigue.margin", places=2)) + " "
    )
    held = {"fails": "bad", "not judged": "care", "holds": "care" if warnings else "good"}
    return held[s.verdict.outcome], words + ". " + cycle + rest


# how the verdict's sentence begins, and the same in the heading
_LOUD = {
    word("Holds"): word("Holds"),
    word("NOT JUDGED"): word("Not judged"),
    word("FAILS"): word("Fails"),
}


def _remarks(warnings: int, v: Values) -> Markup:
    if not warnings:
        return v.html("No warnings.")
    words = (
        v.say("One warning, see the findings.")
        if warnings == 1
        else v.say("{count} warnings, see the findings.", count=warnings)
    )
    return Markup('<a href="#findings">{}</a>').format(words)


def glance(s: Summary, v: Values) -> list[tuple[str, Markup]]:
    """Return the numbers of the heading and what they are."""
    rows = [
        (v.say("free length inside hooks"), v("geometry.free_length", "length")),
        (
            (v.say("rate, handbook"), v("rates.handbook", "rate", 3))
            if s.rates.between_points is None
            else (v.say("rate between working points"), v("rates.between_points", "rate", 3))
        ),
        (v.say("initial tension"), v("initial_tension.force", "force", 3)),
        (
            v.say("wire and coil d × D"),
            v("geometry.wire_diameter", "length", 3, bare=True)
            + " × "
            + v("geometry.mean_diameter", "length"),
        ),
        (v.say("body coils"), v("geometry.body_coils")),
    ]
    if s.points:
        last = len(s.points) - 1
        rows.append(
            (
                v.say("longest working point"),
                v.html(
                    "{load} at {length}",
                    load=v(f"points.{last}.load", "force", 3),
                    length=v(f"along_the_wire.points.{last}.length", "length"),
                ),
            )
        )
    return rows
