"""Words that every output shares: what the ends are called, and what a field is about."""

from __future__ import annotations

from springgeo.message import Message
from springgeo.text.shown import together, word

# the specification's keys a and b; letters in print are the handbooks' points alone
ENDS = {"first": word("first end"), "second": word("second end")}
BOTH = "*"
_SECTIONS = {"wire", "body", "ends", "service", "mating", "tolerances"}


def end_words(side: str) -> Message:
    """Return what an end is called in print.

    Examples
    --------
    >>> end_words("first"), end_words("second"), end_words("*")
    ('first end', 'second end', 'both ends')
    """
    return word("both ends") if side == BOTH else ENDS[side]


def piece_words(label: str) -> Message:
    """Return a piece of wire in words: its label starts with the end it belongs to.

    Examples
    --------
    >>> piece_words("first.half-loop"), piece_words("body")
    ('first end, half loop', 'body')
    """
    side, point, rest = label.partition(".")
    if not point or side not in ENDS:
        return word(label)
    return together(ENDS[side], word(rest.replace("-", " ")), by=", ")


def subject(field: str) -> Message:
    """Return what a finding's field is about, in words.

    Examples
    --------
    >>> subject("ends.first.bend_radius"), subject("ends.*"), subject("service.forcing_frequency")
    ('first end, bend radius', 'both ends', 'forcing frequency')
    """
    parts = field.split(".")
    kept = parts[1:] if len(parts) > 1 and parts[0] in _SECTIONS else parts
    known = {**ENDS, BOTH: word("both ends")}
    return together(*(known.get(p) or word(p.replace("_", " ")) for p in kept), by=", ")
