"""What the formulas of a note are called, for the catalogues; keys are titles of steps."""

from __future__ import annotations

import re

from springgeo.message import Message
from springgeo.text import quantity as q
from springgeo.text.shown import said, word

_WORDS = (
    word("spring index"),
    word("Bergsträsser factor"),
    word("shear stress at the inside of the coil"),
    word("curvature index of a loop or bend"),
    word("bending factor at A"),
    word("tensile stress at A"),
    word("torsion factor at B"),
    word("shear stress at B"),
    word("allowable stress of one place"),
    word("safety factor"),
    word("rate"),
    word("length of the close-wound body"),
    word("free length inside hooks"),
    word("active coils with each hook counted as G/(2 E) turns"),
    word("uncorrected stress of an initial tension"),
    word("initial tension of an uncorrected stress"),
    word("preferred range, low"),
    word("preferred range, middle"),
    word("preferred range, high"),
    word("shear stress of pure torsion"),
    word("EN allowable for the static, uncorrected shear stress"),
    word("alternating part of a stress or force"),
    word("mean part of a stress or force"),
    word("ultimate shear strength"),
    word("reversed endurance strength by Gerber"),
    word("reversed endurance strength by Goodman"),
    word("endurance strength for hook bending"),
    word("Gerber safety factor, alternating and mean stress growing together"),
    word("Goodman safety factor"),
    word("stress endured from zero between two lives of the table"),
    word("stress endured from zero beyond the last life of the table"),
    word("how steeply a line falls on log-log paper"),
    word("mass of the active wire"),
    word("lowest natural frequency with both ends held"),
)
LABELS: dict[str, Message] = {str(w): w for w in _WORDS}
# a row of the repeated-load table
_ROW = re.compile(r"stress endured from zero for (\S+) cycles")


def label_of(title: str) -> Message | None:
    """Return what the catalogues know a step by; None if they do not."""
    if row := _ROW.fullmatch(title):
        cycles = q.number(float(row.group(1)), 3)
        return said("stress endured from zero for {cycles} cycles", cycles=cycles)
    return LABELS.get(title)
