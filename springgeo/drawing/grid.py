"""Tables with a header and ruled columns, that go on from sheet to sheet."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from springgeo.drawing.measured import text_width, wrap
from springgeo.drawing.page import Page
from springgeo.drawing.table import PITCH, Box

_EDGE = 1.2
_SIZES = (2.5, 2.3, 2.1, 2.0)


@dataclass(frozen=True)
class Grid:
    """Texts in columns under a header; the columns in ``wraps`` give way where there is no room."""

    title: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wraps: tuple[int, ...] = ()

    @cached_property
    def _widest(self) -> list[float]:
        """The widest text of each column, mm, at capitals of 1 mm."""
        columns = zip(self.header, *self.rows, strict=True)
        return [max(text_width(text, 1.0) for text in column) for column in columns]

    def widths(self, size: float, width: float) -> list[float]:
        """Return the columns' widths, together ``width`` mm if one may give way."""
        wide = [size * widest + 2 * _EDGE for widest in self._widest]
        over = sum(wide) - width
        if over > 0 and self.wraps:
            share = sum(wide[k] for k in self.wraps)
            for k in self.wraps:
                wide[k] -= over * wide[k] / share
        return wide

    def size(self, width: float) -> float:
        """Return the greatest height of capitals at which the columns fit, mm."""
        for size in _SIZES:
            if sum(self.widths(size, 1e9)) <= width:
                return size
        for size in (*_SIZES, 1.8):
            wide = self.widths(size, width)
            least = [text_width(h, size) + 2 * _EDGE for h in self.header]
            fits = all(wide[k] >= max(least[k], 12.0) for k in self.wraps)
            if sum(wide) <= width + 1e-9 and fits:
                return size
        return 1.8

    def height(self, width: float) -> float:
        """Return the height of the whole, mm."""
        size = self.size(width)
        wide = self.widths(size, width)
        rows = [_broken(row, size, wide) for row in (self.header, *self.rows)]
        return PITCH * size * (1.8 + sum(_lines(row) for row in rows))

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
            cells = self.header if k < start else self.rows[k]
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
