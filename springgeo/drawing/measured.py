"""How wide a text is, by the metrics of the font it is written in, and where it breaks."""

from __future__ import annotations

from functools import cache
from typing import Any

from springgeo.optional import need

# height of capitals over font size, of the font that comes with matplotlib
CAPITAL = 0.729
_SIZE = 100.0


@cache
def _font() -> Any:
    path = need("matplotlib.font_manager", "a drawing", "drawing").findfont("DejaVu Sans")
    font = need("matplotlib.ft2font", "a drawing", "drawing").FT2Font(path)
    font.set_size(_SIZE, 72)
    return font


@cache
def _advance(letter: str) -> float:
    """Return how far a letter moves the pen, in font sizes."""
    return float(_font().load_char(ord(letter)).linearHoriAdvance) / 65536 / _SIZE


def text_width(text: str, height: float) -> float:
    """Return how wide a line of text is, mm, for capitals of ``height`` mm; kerning left out."""
    return height / CAPITAL * sum(map(_advance, text))


def wrap(text: str, height: float, width: float) -> list[str]:
    """Return a text broken into lines no wider than ``width`` mm: at blanks, else within words."""
    lines: list[str] = []
    for word in text.split(" "):
        if not word:
            continue
        if lines and text_width(f"{lines[-1]} {word}", height) <= width:
            lines[-1] += " " + word
            continue
        while text_width(word, height) > width and len(word) > 1:
            n = _fitting(word, height, width)
            lines.append(word[:n])
            word = word[n:]
        lines.append(word)
    return lines


def _fitting(word: str, height: float, width: float) -> int:
    n = 1
    while n < len(word) and text_width(word[: n + 1], height) <= width:
        n += 1
    return n
