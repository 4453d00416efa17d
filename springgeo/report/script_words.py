"""What the page's script says: its texts, units and decimal sign, for one reader."""

from __future__ import annotations

from typing import Any

from springgeo.report.paint import KINDS
from springgeo.report.value import Values
from springgeo.text.quantity import UNITS
from springgeo.text.shown import DECIMAL, word

# the three stretches of the colour scale
SCALE = (word("within"), word("near"), word("over"))
# texts that the script fills in: names in braces as in the catalogues
_TEXTS = {
    "light": word("Light"),
    "dark": word("Dark"),
    "useLight": word("Use light colours"),
    "useDark": word("Use dark colours"),
    "copied": word("Copied."),
    "notCopied": word("Not copied: select the text and copy it by hand."),
    "play": word("Play"),
    "stop": word("Stop"),
    "told": word("{kind} {stress}, {share} % of its allowable ({word})"),
    "reading": word("{load}, {length} inside hooks, greatest {told}"),
    "parted": word("{reading}; {parted} of {coils} coils parted"),
    "probe": word("{piece}, {s} from the first end’s cut: {told}; von Mises {mises}"),
    "size": word("{length} inside hooks"),
}


def words_of(v: Values) -> dict[str, Any]:
    """Return the texts, ready for the data of the view."""
    units = {
        kind: {"factor": UNITS[kind][v.shown.units].factor, "sign": v.unit(kind)}
        for kind in ("length", "force", "stress")
    }
    return {
        "kinds": {k: v.text(words) for k, words in KINDS.items()},
        "words": [v.text(words) for words in SCALE],
        "texts": {k: v.text(words) for k, words in _TEXTS.items()},
        "units": units,
        "finer": int(v.shown.units == "inch"),
        "comma": DECIMAL[v.shown.language],
    }
