"""The title block with its projection symbol."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from springgeo.drawing.layout import Projection, scale_text
from springgeo.drawing.measured import text_width, wrap
from springgeo.drawing.page import Line, Page
from springgeo.drawing.rows.row import Sheet
from springgeo.drawing.rows.table import Box
from springgeo.text.shown import Shown, word

_LABEL, _VALUE, _LEAST, _NAME = 1.8, 2.5, 1.8, 4.0
_LINE = 1.5  # between baselines, in heights of capitals
_SYMBOL = 22.0
# what the block says the units of
_KINDS = ("length", "force", "stress")


class _Cell(NamedTuple):
    label: str
    value: str
    share: float


class Title:
    """A title block that is as high as its texts ask for."""

    def __init__(self, of: Sheet, shown: Shown, projection: Projection, paper: str) -> None:
        self.of, self.shown, self.projection, self.paper = of, shown, projection, paper

    def height(self, width: float) -> float:
        """Return the height of the block in a column of ``width`` mm."""
        return sum(_high(row, width) for row in self._rows("1:1", "1/1"))

    def draw(self, page: Page, box: Box, sheet: str) -> None:
        """Draw the block; texts that the specification does not give stay empty.

        A sheet without a view has no scale.
        """
        viewed = any(line.layer in ("OUTLINE", "FITTING") for line in page.lines)
        page.box("TITLE", *box)
        top = box.top
        rows = self._rows(scale_text(page.scale) if viewed else "–", sheet)
        for i, row in enumerate(rows):
            high = _high(row, box.width)
            if i:
                page.line("TITLE", (box.left, top), (box.right, top))
            x = box.left
            for k, cell in enumerate(row):
                if k:
                    page.line("TITLE", (x, top), (x, top - high))
                _write(page, x, top, cell, cell.share * box.width)
                x += cell.share * box.width
            if i == len(rows) - 1:
                _symbol(page, x - _SYMBOL / 2, top - high / 2, self.projection)
            top -= high

    def _rows(self, scale: str, sheet: str) -> list[list[_Cell]]:
        d, say = self.of.model.spec.drawing, self.shown.text
        units = ", ".join(self.shown.unit(k) for k in _KINDS)
        last = 0.78
        if self.shown.second is not None:
            other = replace(self.shown, units=self.shown.second)
            units, last = f"{units} [{', '.join(other.unit(k) for k in _KINDS)}]", 0.80
        return [
            [_Cell(say(word("Helical extension spring")), self.of.summary.name, 1.0)],
            [
                _Cell(say(word("Company")), d.company or "", 0.45),
                _Cell(say(word("Number")), d.number or "", 0.37),
                _Cell(say(word("Revision")), d.revision or "", 0.18),
            ],
            [
                _Cell(say(word("Drawn")), d.drawn or "", 0.35),
                _Cell(say(word("Checked")), d.checked or "", 0.35),
                _Cell(say(word("Date")), d.date or "", 0.30),
            ],
            [
                _Cell(say(word("Scale")), scale, 0.16),
                _Cell(say(word("Units")), units, last - 0.46),
                _Cell(say(word("Paper")), self.paper, 0.15),
                _Cell(say(word("Sheet")), sheet, 0.15),
                _Cell("", "", 1 - last),
            ],
        ]


def _set(cell: _Cell, width: float) -> tuple[float, list[str]]:
    """Return the height of a cell's text and its lines."""
    if not cell.value:
        return _VALUE, []
    biggest = _NAME if cell.share == 1.0 else _VALUE
    for size in (biggest, 3.0, _VALUE, 2.0):
        if size <= biggest and text_width(cell.value, size) <= width - 3.5:
            return size, [cell.value]
    return _LEAST, wrap(cell.value, _LEAST, width - 3.5)


def _high(row: list[_Cell], width: float) -> float:
    tall = 0.0
    for cell in row:
        size, lines = _set(cell, cell.share * width)
        tall = max(tall, 3.0 + _LABEL + max(len(lines), 1) * _LINE * size)
    return max(tall, 8.4)


def _write(page: Page, x: float, top: float, cell: _Cell, width: float) -> None:
    page.text("TITLE", (x + 1.2, top - 1 - _LABEL), cell.label, _LABEL)
    size, lines = _set(cell, width)
    for i, line in enumerate(lines):
        at = top - 2.2 - _LABEL - size - i * _LINE * size
        page.text("TITLE", (x + 2, at), line, size)


def _symbol(page: Page, x: float, y: float, projection: Projection) -> None:
    """Draw the truncated cone: its circles stand right in first angle, left in third."""
    side = 1.0 if projection == "first" else -1.0
    big, small = 2.6, 1.3
    cx, left, right = x + side * 4.5, x - side * 4.5 - 3, x - side * 4.5 + 3
    t = np.linspace(0, 2 * math.pi, 49)
    for r in (big, small):
        circle = np.stack([cx + r * np.cos(t), y + r * np.sin(t)], axis=1)
        page.lines.append(Line("TITLE", circle))
    page.line(
        "TITLE",
        (left, y - small),
        (right, y - big),
        (right, y + big),
        (left, y + small),
        (left, y - small),
    )
    page.line("CENTRE", (left - 1, y), (right + 1, y))
    page.line("CENTRE", (cx - big - 1, y), (cx + big + 1, y))
    page.line("CENTRE", (cx, y - big - 1), (cx, y + big + 1))
