"""Every colour and what it means: one assignment for page, plots, pictures and renders.

Hues that stand for something (bending, shear, wires) are the palette of Okabe and Ito, 2008,
which every kind of colour vision tells apart; lines differ in dash as well. The stress ramp is
relative to the allowable: pale to blue within it, orange near it, crimson over it. It darkens
all the way, so that it reads in grey as well.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

Rgb = tuple[float, float, float]


class Ink(NamedTuple):
    """A colour on white paper and on a dark screen, ``#rrggbb``."""

    light: str
    dark: str


# shares of the allowable: from NEAR on it is near, over 1 it is over; beyond TOP nothing changes
NEAR, TOP = 0.8, 1.25
WORDS = ("within", "near", "over")
# (share, L*, a*, b* of CIE 1976) between which the ramp runs straight; two at one share: a step
_ANCHORS: tuple[tuple[float, float, float, float], ...] = (
    (0.0, 93.0, -1.0, -3.0),
    (NEAR, 66.0, -8.0, -36.0),
    (NEAR, 59.0, 31.0, 62.0),
    (1.0, 52.0, 45.0, 57.0),
    (1.0, 34.0, 58.0, 16.0),
    (TOP, 22.0, 44.0, 4.0),
)
_STEPS = 250

INKS: dict[str, Ink] = {
    "paper": Ink("#fbfbf9", "#14171b"),
    "card": Ink("#ffffff", "#1c2026"),
    # under drawings whose lines are dark in any light
    "sheet": Ink("#ffffff", "#ffffff"),
    "ink": Ink("#1b1f24", "#e9ebee"),
    "soft": Ink("#555d67", "#aeb6c0"),
    "rule": Ink("#d8dade", "#3a414a"),
    "grid": Ink("#e7e8ea", "#2d333b"),
    "link": Ink("#0b5cad", "#7db8f0"),
    "good": Ink("#1e6b3a", "#7fd39a"),
    "care": Ink("#c44e00", "#ff9550"),
    "bad": Ink("#a3290f", "#ff9d86"),
    "good-back": Ink("#e7f3ea", "#1b3324"),
    "bad-back": Ink("#fbeae5", "#41201a"),
    "note-back": Ink("#eef2f6", "#232a32"),
    "shear": Ink("#0072b2", "#5cb8ef"),
    "bending": Ink("#c44e00", "#ff9550"),
    "preferred": Ink("#cfe6f3", "#20435a"),
    "loop": Ink("#fbe3d0", "#4a3324"),
    "bend": Ink("#d5e7f4", "#22394a"),
    "body": Ink("#f3f3f3", "#262b31"),
    "stage": Ink("#dde2e7", "#2a3038"),
    "part": Ink("#9aa1a9", "#9aa1a9"),
    "glass": Ink("#8fa9bf", "#9fb6c9"),
    "ghost": Ink("#7a5aa6", "#b9a2de"),
    "mounted": Ink("#7a5aa6", "#b9a2de"),
    "measure": Ink("#6a727b", "#98a0a9"),
    "cut-wire": Ink("#3f4750", "#c9d0d8"),
    "cut-part": Ink("#c9bda3", "#85795f"),
}
# on paper: no grounds, black letters
PRINTED = dict.fromkeys(
    ("paper", "card", "stage", "good-back", "bad-back", "note-back"), "#ffffff"
) | dict.fromkeys(("ink", "link"), "#000000")
# Okabe and Ito, 2008, less the yellow and the black: for things that merely differ
SERIES = ("#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#e69f00", "#5b5b5b")


class Shaded(NamedTuple):
    """From the light to the dark of a thing's shading, and its outline."""

    ink: Ink
    edge: str


# wire and fittings where no stress is shown
WIRE = Shaded(Ink("#d6dbe2", "#78808c"), "#2b2f36")
FITTING = Ink("#e2cea0", "#947a48")
# what stands in an assembly for a CAD program, by kind; sRGB, 0 to 1
SOLIDS: dict[str, Rgb] = {
    "spring": (0.72, 0.74, 0.78),
    "fitting": (0.45, 0.50, 0.58),
    "pin": (0.80, 0.55, 0.20),
    "stud": (0.80, 0.55, 0.20),
    "plate": (0.35, 0.50, 0.70),
    "rod": (0.55, 0.60, 0.55),
    "bore": (0.60, 0.80, 0.90),
    "solid": (0.66, 0.60, 0.72),
}
# bright steel for a program that computes reflections; linear light, and opacity
STEEL = (0.34, 0.37, 0.41, 1.0)


@cache
def ramp() -> tuple[str, ...]:
    """Return the stress ramp as ``#rrggbb``: 250 colours in even steps of share, 0 to ``TOP``."""
    return tuple(_hex(_lab((i + 0.5) * TOP / _STEPS)) for i in range(_STEPS))


def of_share(share: float) -> str:
    """Return the colour of a stress at a share of its allowable."""
    return ramp()[min(_STEPS - 1, max(0, int(share / TOP * _STEPS + 1e-9)))]


def word(share: float) -> str:
    """Return ``within``, ``near`` or ``over`` for a share of the allowable.

    Examples
    --------
    >>> word(0.5), word(0.9), word(1.0), word(1.01)
    ('within', 'near', 'near', 'over')
    """
    return WORDS[2 if share > 1 else 1 if share >= NEAR else 0]


def rgb(colour: str) -> Rgb:
    """Return a colour's red, green and blue, 0 to 1."""
    return int(colour[1:3], 16) / 255, int(colour[3:5], 16) / 255, int(colour[5:7], 16) / 255


def between(light: str, dark: str, share: float) -> str:
    """Return the colour at a share of the way from one to another."""
    mixed = (a + (b - a) * share for a, b in zip(rgb(light), rgb(dark), strict=True))
    return "#" + "".join(f"{round(255 * v):02x}" for v in mixed)


def _lab(share: float) -> Rgb:
    i = min(bisect_right([a[0] for a in _ANCHORS], share), len(_ANCHORS) - 1)
    (low, *a), (high, *b) = _ANCHORS[i - 1], _ANCHORS[i]
    part = (share - low) / (high - low)
    x, y, z = (p + part * (q - p) for p, q in zip(a, b, strict=True))
    return x, y, z


def _hex(lab: Sequence[float]) -> str:
    """Return the sRGB colour of CIE L*, a*, b* (CIE 15; white D65; IEC 61966-2-1)."""
    y = (lab[0] + 16) / 116
    f = (y + lab[1] / 500, y, y - lab[2] / 200)
    xyz = [
        w * (v**3 if v > 6 / 29 else (v - 4 / 29) * 108 / 841)
        for w, v in zip((0.95047, 1.0, 1.08883), f, strict=True)
    ]
    rows = ((3.2406, -1.5372, -0.4986), (-0.9689, 1.8758, 0.0415), (0.0557, -0.2040, 1.0570))
    shown = []
    for row in rows:
        v = min(max(sum(m * c for m, c in zip(row, xyz, strict=True)), 0.0), 1.0)
        shown.append(12.92 * v if v <= 0.0031308 else 1.055 * v ** (1 / 2.4) - 0.055)
    return "#" + "".join(f"{round(255 * v):02x}" for v in shown)
