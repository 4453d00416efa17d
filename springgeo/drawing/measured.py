"""How wide a text is, by the metrics of the font it is written in, and where it breaks."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from springgeo.optional import need

if TYPE_CHECKING:
    from matplotlib.ft2font import FT2Font

# height of capitals over font size, of the font that comes with matplotlib
CAPITAL = 0.729
_SIZE = 100.0
# where a catalogue allows a long word to be broken; not seen elsewhere (Unicode: soft hyphen)
SOFT = "\N{SOFT HYPHEN}"
# a number and its unit part before either is cut
_TIE = "\N{NO-BREAK SPACE}"
_BREAKS = SOFT, _TIE, "-"
# blanks that part a value from its tolerance, ± from what strays, a standard from its number, a
# number from its unit, L1 from what it is
_TIED = re.compile(
    r"(?<=\w) (?=±)|(?<=±) (?=\w)|(?<=\bEN) (?=\d)|(?<=\bISO|\bDIN) (?=\d)|(?<=\bASTM) (?=[A-Z]\d)"
    r"|(?<=\d) (?=(?:mm|min|in)\b)|(?<=\d) (?==)|(?<==) (?=\d)"
)


@cache
def _font() -> FT2Font:
    path = need("matplotlib.font_manager", "a drawing", "drawing").findfont("DejaVu Sans")
    font: FT2Font = need("matplotlib.ft2font", "a drawing", "drawing").FT2Font(path)
    font.set_size(_SIZE, 72)
    return font


@cache
def _advance(letter: str) -> float:
    """Return how far a letter moves the pen, in font sizes."""
    return float(_font().load_char(ord(letter)).linearHoriAdvance) / 65536 / _SIZE


def text_width(text: str, height: float) -> float:
    """Return how wide a line of text is, mm, for capitals of ``height`` mm; kerning left out."""
    return height / CAPITAL * sum(map(_advance, text.replace(SOFT, "")))


def wrap(text: str, height: float, width: float) -> list[str]:
    """Return a text broken into lines no wider than ``width`` mm.

    At blanks; a word that is too wide by itself where its catalogue allows, else anywhere.
    """
    lines: list[str] = []
    for word in _TIED.sub(_TIE, text).split(" "):
        if not word:
            continue
        if lines and text_width(f"{lines[-1]} {word}", height) <= width:
            lines[-1] += " " + word
            continue
        while text_width(word, height) > width and len(word) > 1:
            line, word = _broken(word, height, width)
            lines.append(line)
        lines.append(word)
    return [line.replace(SOFT, "") for line in lines]


def _broken(word: str, height: float, width: float) -> tuple[str, str]:
    """Return as much of a word as fits a line, and the rest: a tolerance keeps its unit."""
    breaks = [i for i, letter in enumerate(word[:-1]) if letter in _BREAKS]
    for at in sorted(breaks, key=lambda i: (word[i + 1] == "±", i), reverse=True):
        line = word[:at] + ("" if word[at] == _TIE else "-")
        if text_width(line, height) <= width:
            return line, word[at + 1 :]
    return _cut(word, height, width)


def _cut(word: str, height: float, width: float) -> tuple[str, str]:
    n = 1
    while n < len(word) and text_width(word[: n + 1], height) <= width:
        n += 1
    return word[:n], word[n:]
