"""Tables with a header and ruled columns, that go on from sheet to sheet."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from springgeo.drawing.measured import text_width, wrap
from springgeo.drawing.page import Page
from springgeo.drawing.rows.table import PITCH, Box

_EDGE = 1.2
_SIZES = (2.5, 2.3, 2.1, 2.0, 1.8)
# a column of words is not made narrower than this, mm, if it can be helped
_FEW = 26.0
# as above
_DITTO = "\N{DOUBLE PRIME}"


@dataclass(frozen=True)
class Grid:
    """Texts in columns under a header; the columns in ``wraps`` give way first.

    What stands above on the same sheet, in a column of ``ditto``, is not written again.
    """

    title: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wraps: tuple[int, ...] = ()
    ditto: tuple[int, ...] = ()

    @cached_property
    def _texts(self) -> tuple[list[float], list[float]]:
        """The widest text, and the widest word, of each column, mm, at capitals of 1 mm."""
        columns = list(zip(self.header, *self.rows, strict=True))
        words = [[word for text in column for word in text.split(" ")] for column in columns]
        widest = [
            [max(text_width(t, 1.0) for t in column) for column in x] for x in (columns, words)
        ]
        return widest[0], widest[1]

    def _least(self, size: float) -> list[float]:
        """Return how narrow each column can be, mm: no word broken, and a few to a line."""
        whole, words = ([size * w + 2 * _EDGE for w in x] for x in self._texts)
        few = [_FEW if k in self.wraps else 0.0 for k in range(len(whole))]
        return [max(w, min(f, h)) for w, f, h in zip(words, few, whole, strict=True)]

    def widths(self, size: float, width: float) -> list[float]:
        """Return the columns' widths, together ``width`` mm if they can give way so far.

        Those in ``wraps`` give way first, then the others.
        """
        wide = [size * w + 2 * _EDGE for w in self._texts[0]]
        least, over = self._least(size), sum(wide) - width
        others = tuple(k for k in range(len(wide)) if k not in self.wraps)
        for columns in (self.wraps, others):
            room = sum(wide[k] - least[k] for k in columns)
            if over > 0 and room > 0:
                share = min(1.0, over / room)
                over -= share * room
                for k in columns:
                    wide[k] -= share * (wide[k] - least[k])
        return wide if over < 1e-9 else [w * width / sum(wide) for w in wide]

    def size(self, width: float) -> float:
        """Return the greatest height of capitals at which the columns fit, mm."""
        for gives in ((), self.wraps, tuple(range(len(self.header)))):
            for size in _SIZES:
                least = self._least(size)
                whole = [size * w + 2 * _EDGE for w in self._texts[0]]
                if sum(least[k] if k in gives else w for k, w in enumerate(whole)) <= width:
                    return size
        return _SIZES[-1]

    def height(self, width: float) -> float:
        """Return the height of the whole, mm."""
        size = self.size(width)
        wide = self.widths(size, width)
        cells = [self.header, *(self._cells(k, first=k == 0) for k in range(len(self.rows)))]
        rows = [_broken(row, size, wide) for row in cells]
        return PITCH * size * (1.8 + sum(_lines(row) for row in rows))

    def _cells(self, k: int, *, first: bool) -> tuple[str, ...]:
        """Return what is written of a row, which may be the first of its sheet."""
        row = self.rows[k]
        if first:
            return row
        above = self.rows[k - 1]
        return tuple(_DITTO if i in self.ditto and x == above[i] else x for i, x in enumerate(row))

    def draw(self, page: Page, box: Box, start: int) -> tuple[int, float]:
        """Draw rows from ``start`` on; return the first that did not fit, and the y below."""
        size = self.size(box.width)
        wide, line = self.widths(size, box.width), PITCH * size
        lefts = [box.left + sum(wide[:k]) for k in range(len(wide) + 1)]
        y = box.top - 1.4 * line
        if y - 3 * line < box.bottom:
            return start, box.top
        page.text("DATA", (box.left + 1.5, y), self.title, size)
        top = y = y - 0.4 * line
        k = start - 1
        while k < len(self.rows):
            cells = self.header if k < start else self._cells(k, first=k == start)
            broken = _broken(cells, size, wide)
            high = _lines(broken) * line
            if y - high < box.bottom:
                break
            for lines, left in zip(broken, lefts, strict=False):
                for i, text in enumerate(lines):
                    page.text("DATA", (left + _EDGE, y - (0.85 + i) * line), text, size)
            y -= high
            page.line("DATA", (lefts[0], y), (lefts[-1], y))
            k += 1
        page.line("DATA", (lefts[0], top), (lefts[-1], top))
        for left in lefts:
            page.line("DATA", (left, top), (left, y))
        return k, y


def _broken(row: tuple[str, ...], size: float, wide: list[float]) -> list[list[str]]:
    return [wrap(c, size, w - 2 * _EDGE + 0.01) for c, w in zip(row, wide, strict=True)]


def _lines(broken: list[list[str]]) -> float:
    return max(1, *map(len, broken)) + 0.15
