"""Sets the data rows into their column of the sheet, smaller only if they would not fit."""

from __future__ import annotations

from typing import NamedTuple

from springgeo.drawing.data_rows import Row
from springgeo.drawing.page import Page, text_width, wrap


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


_PITCH = 1.72  # row height over height of capitals
_BIGGEST, _SMALLEST = 3.0, 2.0


def draw_table(page: Page, box: Box, rows: list[Row]) -> None:
    """Draw the rows from the top of a box downward, with thin rules between groups."""
    height = _BIGGEST
    while height > _SMALLEST:
        symbols, quantities, values = _columns(rows, height)
        lines = sum(len(wrap(r.value, height, box.width - symbols - quantities)) or 1 for r in rows)
        wide = symbols + quantities + min(values, 0.45 * box.width)
        if lines * _PITCH * height <= box.height - 2 and wide <= box.width - 3:
            break
        height -= 0.05
    symbols, quantities, _ = _columns(rows, height)
    pitch = _PITCH * height
    y = box.top
    for row in rows:
        if not row.symbol and not row.value:
            page.line("DATA", (box.left, y), (box.right, y))
            page.text("DATA", (box.left + 1.5, y - 0.80 * pitch), row.quantity, height)
            y -= 1.06 * pitch
            continue
        x = box.left + 1.5
        page.text("DATA", (x, y - 0.72 * pitch), row.symbol, height)
        page.text("DATA", (x + symbols, y - 0.72 * pitch), row.quantity, height)
        x += symbols + quantities
        for line in wrap(row.value, height, box.right - x - 1):
            page.text("DATA", (x, y - 0.72 * pitch), line, height)
            y -= pitch
    page.line("DATA", (box.left, y), (box.right, y))


def _columns(rows: list[Row], height: float) -> tuple[float, float, float]:
    plain = [r for r in rows if r.value]
    symbol = max(text_width(r.symbol, height) for r in plain) + 2
    quantity = max(text_width(r.quantity, height) for r in plain) + 2
    return symbol, quantity, max(text_width(r.value, height) for r in plain)
