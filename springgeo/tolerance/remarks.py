"""What the answer takes for granted, and what is to be said about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from springgeo.findings import Finding, by_severity, note, warning
from springgeo.message import Message
from springgeo.results.tolerance import Spread
from springgeo.specification.tolerances import Tolerances
from springgeo.text import quantity as q
from springgeo.text.shown import said, together, word
from springgeo.tolerance.inputs import WORDS
from springgeo.tolerance.strayed import Drawn
from springgeo.tolerance.truth import FATIGUE, Asked

# per cent that the correction may be off before somebody must be told
_OFF = {"margin": 2.0, FATIGUE: 2.0}
_USUALLY = 0.5
_ADJUSTED = {
    "initial-tension": word("initial tension"),
    "coils": word("body coils"),
    "mean-diameter": word("mean diameter"),
    "free-length": word("free length"),
}


def remarks_of(
    asked: Tolerances, adjusts: str, *, spectrum: bool, mounted: bool
) -> tuple[Message, ...]:
    """Return what is taken for granted, in words.

    ``spectrum``: whether the service has one; ``mounted``: whether the spring is mounted so that
    its pull is not straight.
    """
    return tuple(_remarks(asked, adjusts, spectrum=spectrum, mounted=mounted))


def _remarks(
    asked: Tolerances, adjusts: str, *, spectrum: bool, mounted: bool
) -> Iterator[Message]:
    if asked.distribution == "normal":
        yield word(
            "Each dimension is taken as normally distributed in the middle of its tolerance, which "
            "is three standard deviations either way, and none beyond: common practice for a "
            "process that just holds it."
        )
    else:
        yield word("Each dimension is taken as anywhere in its tolerance, equally likely.")
    yield word(
        "They stray independently of each other; Young's modulus strays with the shear modulus. "
        "Measured dimensions of a maker's own springs say more."
    )
    if asked.hook_length is None:
        yield word(
            "The free length strays by a tolerance of its own, the hooks making good what the body "
            "lacks."
        )
    if adjusts != "none":
        yield said(
            "For every lot of wire the maker sets the {what} anew, so that the highest load is "
            "met: what the lot's wire diameter and modulus are off by is taken out.",
            what=_ADJUSTED[adjusts],
        )
    if asked.tensile_strength is None:
        yield word("Strength is the least of its standard, and does not stray.")
    yield word("Margins are static ones at the highest load.")
    if mounted:
        yield word(
            "Loads, lengths and rate are of the straight pull, by which springs are made and "
            "measured; margins and factors are told as mounted, too."
        )
    if spectrum:
        yield word(
            "How the factor of the load spectrum strays is not answered; the summary has that of "
            "the nominal spring."
        )


def findings_of(
    spreads: Sequence[Spread], points: Sequence[Asked], drawn: Drawn, narrowed: Sequence[str]
) -> tuple[Finding, ...]:
    """Return what is to be said of the answer."""
    return tuple(by_severity(list(_findings(spreads, points, drawn, narrowed))))


def _findings(
    spreads: Sequence[Spread], points: Sequence[Asked], drawn: Drawn, narrowed: Sequence[str]
) -> Iterator[Finding]:
    wrong = int((~drawn.possible).sum())
    if wrong:
        text = said(
            "{share} of the springs drawn cannot be made: coils too tight, no room for the body "
            "between the hooks, or coils that would pull apart by themselves; they count as "
            "outside; narrow the tolerances",
            share=q.percent(100 * wrong / drawn.count, 3),
        )
        yield warning("springs-impossible", "tolerances", text)
    for p in points:
        if not p.judged:
            text = said(
                "a load of {load} does not open the coils: the length says nothing of it, so that "
                "it is not judged",
                load=q.force(p.load),
            )
            yield note("below-initial-tension", "service", text)
    if not any(p.judged for p in points):
        text = word("no load opens the coils: the rate alone is judged; give working points")
        yield note("no-loads", "service", text)
    worst = max(spreads, key=lambda s: s.off_percent / _OFF.get(s.quantity, _USUALLY))
    if worst.off_percent > _OFF.get(worst.quantity, _USUALLY):
        text = said(
            "springs drawn are up to {off} off their equilibrium ({what}): a load lies at the "
            "knee where coils part, or tolerances are wide; take shares with that caution",
            off=q.percent(worst.off_percent, 2),
            what=word(worst.quantity.replace("_", " ")),
        )
        yield warning("correction-off", "tolerances", text)
    if narrowed:
        names = together(*(WORDS[name] for name in narrowed), by=", ")
        text = said(
            "at the ends of these tolerances no spring can be made: {names}; the correction there "
            "is that of a narrower one",
            names=names,
        )
        yield warning("correction-narrowed", "tolerances", text)
