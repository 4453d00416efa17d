"""Sets rows of the table into columns of the sheet: measured, wrapped, never beyond their box."""

from __future__ import annotations

from typing import NamedTuple

from springgeo.drawing.measured import text_width, wrap
from springgeo.drawing.page import Page
from springgeo.drawing.rows.row import Row


class Box(NamedTuple):
    """A rectangle of the sheet, mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From left to right, mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top, mm."""
        return self.top - self.bottom


PITCH = 1.6  # row height over height of capitals
_EDGE, _BETWEEN = 1.5, 2.0
# by how much a heading stands lower, in capitals, for the line above it clears an accent
_LOWER = 0.05
# share of a box that symbols and quantities may take together
_MOST = 0.62


class _Columns(NamedTuple):
    symbol: float
    quantity: float
    value: float


class Entry(NamedTuple):
    """A row broken into lines, and the height it takes, mm."""

    row: Row
    quantity: list[str]
    value: list[str]
    height: float

    @property
    def is_heading(self) -> bool:
        """Whether rows belong below it."""
        return not self.row.symbol and not self.row.value


def entries(rows: list[Row], size: float, width: float) -> list[Entry]:
    """Return the rows broken for a column of ``width`` mm."""
    c = _columns(rows, size, width)
    found = []
    for row in rows:
        inside = width - 2 * _EDGE
        if not row.symbol and not row.value:
            quantity, value = wrap(row.quantity, size, inside), []
        elif not row.quantity:
            quantity, value = [], wrap(row.value, size, inside - c.symbol)
        else:
            quantity = wrap(row.quantity, size, c.quantity - _BETWEEN)
            value = wrap(row.value, size, c.value)
        lines = max(len(quantity), len(value), 1)
        found.append(Entry(row, quantity, value, (lines + 0.1) * PITCH * size))
    return found


def taken(found: list[Entry], height: float) -> int:
    """Return how many entries fit into ``height`` mm, no heading left alone at the foot."""
    n, used = 0, 0.0
    while n < len(found) and used + found[n].height <= height:
        used += found[n].height
        n += 1
    while 0 < n < len(found) and found[n - 1].is_heading:
        n -= 1
    return n


def draw_entries(page: Page, box: Box, found: list[Entry], rows: list[Row], size: float) -> None:
    """Draw entries from the top of a box downward; ``rows`` are all that share its columns."""
    c = _columns(rows, size, box.width)
    y, x = box.top, box.left + _EDGE
    for entry in found:
        base = y - 0.05 * PITCH * size - 0.78 * PITCH * size
        if entry.is_heading:
            page.line("DATA", (box.left, y), (box.right, y))
            base -= _LOWER * size
        elif entry.row.symbol:
            page.text("DATA", (x, base), entry.row.symbol, size)
        left = x if entry.is_heading else x + c.symbol
        for i, line in enumerate(entry.quantity):
            page.text("DATA", (left, base - i * PITCH * size), line, size)
        left = x + c.symbol + (c.quantity if entry.row.quantity else 0.0)
        for i, line in enumerate(entry.value):
            page.text("DATA", (left, base - i * PITCH * size), line, size)
        y -= entry.height
    page.line("DATA", (box.left, y), (box.right, y))


def _columns(rows: list[Row], size: float, width: float) -> _Columns:
    plain = [r for r in rows if r.value and r.quantity]
    symbol = max((text_width(r.symbol, size) for r in rows), default=0.0) + _BETWEEN
    quantity = max((text_width(r.quantity, size) for r in plain), default=0.0) + _BETWEEN
    inside = width - 2 * _EDGE
    quantity = min(quantity, _MOST * inside - symbol)
    return _Columns(symbol, quantity, inside - symbol - quantity)
