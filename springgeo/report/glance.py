"""The first thing a reader sees: the verdict in a sentence, and six numbers."""

from __future__ import annotations

from springgeo.fit import FitReport
from springgeo.report.html import Markup
from springgeo.report.value import Values
from springgeo.summary import Summary
from springgeo.text.quantity import factor
from springgeo.text.shown import word


def verdict(s: Summary, v: Values, fit: FitReport | None = None) -> tuple[str, Markup]:
    """Return ``good``, ``care`` or ``bad``, and the verdict as HTML."""
    kind, words = _strength(s, v, fit)
    if fit is None:
        return kind, words
    if not fit.ok:
        return "bad", words + " " + _link("fit", v.say("It does not fit its mating parts."))
    return kind, words + " " + _link("fit", v.say("It fits its mating parts."))


def _strength(s: Summary, v: Values, fit: FitReport | None) -> tuple[str, Markup]:
    own = sum(f.severity != "note" for f in s.findings)
    of_fit = 0 if fit is None else sum(f.severity != "note" for f in fit.findings)
    warnings = own + of_fit
    failed = [c.name for c in s.checks if not c.ok]
    if failed:
        return "bad", v.html("A check on the shape failed: {names}.", names=", ".join(failed))
    rest = _remarks(own, of_fit, v)
    if s.verdict is None:
        return ("care" if warnings else "good"), v.html("No working loads are given.") + " " + rest
    told = v.text(s.verdict.words)
    words = Markup.escape(told[:1].upper() + told[1:])
    for plain, loud in _LOUD.items():
        strong = Markup("<strong>{}</strong>").format(v.text(loud))
        words = words.replace(v.text(plain), strong, 1)
    tired = None if s.fatigue is None else s.fatigue.margin
    cycle = (
        ""
        if tired is None
        else v.html(
            "Fatigue: least factor {factor}.",
            factor=v("fatigue.margin", places=factor(tired).places),
        )
        + " "
    )
    held = {"fails": "bad", "not judged": "care", "holds": "care" if warnings else "good"}
    return held[s.verdict.outcome], words + ". " + cycle + rest


# how the verdict's sentence begins, and the same in the heading
_LOUD = {
    word("Holds"): word("Holds"),
    word("NOT JUDGED"): word("Not judged"),
    word("FAILS"): word("Fails"),
}


def _remarks(own: int, of_fit: int, v: Values) -> Markup:
    """Return how many warnings the page has, each with the section that tells them."""
    if not own + of_fit:
        return v.html("No warnings.")
    words = []
    if own:
        told = (
            v.say("One warning, see the findings.")
            if own == 1
            else v.say("{count} warnings, see the findings.", count=own)
        )
        words.append(_link("findings", told))
    if of_fit:
        told = (
            v.say("One warning, see the fit.")
            if of_fit == 1
            else v.say("{count} warnings, see the fit.", count=of_fit)
        )
        words.append(_link("fit", told))
    return Markup(" ").join(words)


def _link(section: str, words: str) -> Markup:
    return Markup('<a href="#{}">{}</a>').format(section, words)


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
        at, words = f"along_the_wire.points.{len(s.points) - 1}", v.say("longest working point")
        if s.mounted:
            at = f"mounted.{len(s.mounted) - 1}"
            words = v.say("longest working point, as mounted")
        value = v.html(
            "{load} at {length}",
            load=v(f"{at}.load", "force", 3),
            length=v(f"{at}.length", "length"),
        )
        rows.append((words, value))
    return rows
