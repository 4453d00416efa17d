"""The sheets for the spring maker: views, diagram, data, notes, title block; as many as needed."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from springgeo.drawing.diagram import draw_diagram
from springgeo.drawing.dimensions import draw_dimensions
from springgeo.drawing.layout import ROOM, WIDER, Projection, Views, closer, place_views
from springgeo.drawing.measured import text_width
from springgeo.drawing.notes import MARK, fails, notes
from springgeo.drawing.page import Line, Page
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Row, Sheet
from springgeo.drawing.rows.table import PITCH, Box, draw_entries, entries, taken
from springgeo.drawing.title import Title
from springgeo.specification.making import TRADES, Paper
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.shown import Shown, word
from springgeo.trade.dimension_tolerance import Trade

SHOWN = Shown(typeset=True)


class _Size(NamedTuple):
    width: float
    height: float
    column: float
    projection: Projection
    trade: Trade

    @property
    def frame(self) -> Box:
        """The frame of the sheet, mm."""
        return Box(_FILE_EDGE, _EDGE, self.width - _EDGE, self.height - _EDGE)


PAPERS: dict[Paper, _Size] = {
    "A4": _Size(297.0, 210.0, 100.0, "first", TRADES["A4"]),
    "A3": _Size(420.0, 297.0, 128.0, "first", TRADES["A3"]),
    "Letter": _Size(279.4, 215.9, 100.0, "third", TRADES["Letter"]),
}
_FILE_EDGE, _EDGE = 20.0, 8.0  # the wider margin is for punched holes
# heights of capitals that the table and the notes may have, mm, and that of further sheets
_TABLE, _NOTES, _FURTHER = (3.0, 2.8, 2.6, 2.5, 2.4, 2.3, 2.2, 2.1, 2.0), (2.5, 2.3, 2.1, 2.0), 2.5
_MARK = 5.0
# what the mark of a failing spring takes at the top of a sheet
MARK_ROOM = 2 * _MARK


def sheet(model: SpringModel, summary: Summary, paper: Paper = "A4", shown: Shown = SHOWN) -> Page:
    """Return the first sheet: see `sheets`."""
    return sheets(model, summary, paper, shown)[0]


def sheets(
    model: SpringModel, summary: Summary, paper: Paper = "A4", shown: Shown = SHOWN
) -> list[Page]:
    """Return the drawing of a spring without load: one sheet, or as many as its data need.

    Parameters
    ----------
    model : SpringModel
    summary : Summary
        Of the same spring.
    paper : {"A4", "A3", "Letter"}
        A sizes are drawn in first-angle projection with metric tolerances, Letter in third-angle
        with those of the US trade.
    shown : Shown
        The reader's units and language.
    """
    size = PAPERS[paper]
    of = Sheet(model, summary, size.trade)
    frame, title = size.frame, Title(of, shown, size.projection, paper)
    split, low = frame.right - size.column, frame.bottom + 0.40 * frame.height
    head = frame.top - (MARK_ROOM if fails(of) else 0.0)
    field = Box(frame.left, low, split, head)
    page, views = _views(size, field, of, shown)
    page.line("FRAME", (split, frame.bottom), (split, frame.top))
    middle = frame.left + 0.54 * (split - frame.left)
    under = Box(frame.left, frame.bottom, middle, low - 4)
    draw_diagram(page, under, summary, replace(shown, second=None))  # its axes have one unit each
    told = [Row(f"{k}", "", shown.text(t)) for k, t in enumerate(_notes(of, views), 1)]
    rows = [Row(*(shown.text(t) for t in row)) for row in data_rows(of)]
    block = Box(split, frame.bottom, frame.right, frame.bottom + title.height(size.column))
    left_rows = _table(page, Box(split, block.top, frame.right, frame.top), rows)
    left_notes = _notes_box(page, Box(middle, frame.bottom, split, low), told, shown)
    further = left_rows
    if left_notes:
        further = [*left_rows, Row("", shown.text(word("NOTES")), ""), *left_notes]
    pages = [page, *_further(size, of, title, further)]
    if fails(of):
        draw_mark(page, Box(frame.left, frame.bottom, split, frame.top), shown)
    for k, each in enumerate(pages, 1):
        block = Box(split, frame.bottom, frame.right, block.top)
        title.draw(each, block, f"{k}/{len(pages)}")
        if k > 1 and fails(of):
            draw_mark(each, frame, shown)
    return pages


def empty_page(size: _Size, scale: float, of: Sheet) -> Page:
    """Return a sheet with nothing but its frame."""
    page = Page(size.width, size.height, scale, of.summary.name)
    page.box("FRAME", *size.frame)
    return page


def _views(size: _Size, field: Box, of: Sheet, shown: Shown) -> tuple[Page, Views]:
    """Return a sheet with the views and their dimensions, at the greatest scale that does.

    One step greater than room is kept for, where the dimensions are clear all the same.
    """
    free = ROOM if shown.second is None else WIDER
    wide, close = (
        place_views(of.model.geometry, field, size.projection, room)
        for room in (free, closer(free))
    )
    for views in (close, wide):
        if views is close and close.scale == wide.scale:
            continue
        page = empty_page(size, views.scale, of)
        _draw_views(page, views)
        clear = draw_dimensions(page, views, of, shown, field)
        if clear:
            break
    return page, views


def _notes(of: Sheet, views: Views) -> list[str]:
    return notes(of, views.front.gap.coils)


def _draw_views(page: Page, views: Views) -> None:
    for view in (views.front, views.end, views.second):
        if view is not None:
            page.lines += [Line("OUTLINE", view.flat(line)) for line in view.seen.lines]
            page.lines += [Line("FITTING", view.flat(line)) for line in view.seen.fittings]
            page.lines += [Line("BREAK", view.flat(line)) for line in view.waves]


def _table(page: Page, box: Box, rows: list[Row]) -> list[Row]:
    """Draw rows as large as they fit, and return those that do not fit at all."""
    for size in _TABLE:
        found = entries(rows, size, box.width)
        if sum(e.height for e in found) <= box.height:
            break
    else:
        size = _FURTHER
        found = entries(rows, size, box.width)
    n = taken(found, box.height)
    draw_entries(page, box, found[:n], rows, size)
    return headed(rows, n)


def headed(rows: list[Row], n: int) -> list[Row]:
    """Return the rows from ``n`` on, under the heading they belong to."""
    rest = rows[n:]
    if not rest or not (rest[0].symbol or rest[0].value):
        return rest
    above = [r for r in rows[:n] if not (r.symbol or r.value)]
    return [*above[-1:], *rest]


def _notes_box(page: Page, box: Box, told: list[Row], shown: Shown) -> list[Row]:
    """Write the notes, numbered, and return those that do not fit."""
    page.text("NOTES", (box.left + 1.5, box.top - 2.5), shown.text(word("NOTES")), 2.5)
    inner = Box(box.left, box.bottom + 1, box.right - 0.5, box.top - 4)
    for size in _NOTES:
        found = entries(told, size, inner.width)
        if sum(e.height for e in found) <= inner.height:
            break
    n, marks = taken(found, inner.height), max(text_width(r.symbol, size) for r in told)
    y = inner.top
    for entry in found[:n]:
        base = y - 0.83 * PITCH * size
        page.text("NOTES", (inner.left + 1.5, base), entry.row.symbol, size)
        for i, line in enumerate(entry.value):
            x = inner.left + 1.5 + marks + 2.0
            page.text("NOTES", (x, base - i * PITCH * size), line, size)
        y -= entry.height
    return told[n:]


def _further(size: _Size, of: Sheet, title: Title, rows: list[Row]) -> list[Page]:
    """Return the sheets that hold what the first could not, in columns."""
    pages: list[Page] = []
    frame, top = size.frame, size.frame.top - (MARK_ROOM if fails(of) else 0.0)
    columns = round(frame.width / size.column)
    wide = (frame.width - size.column) / max(columns - 1, 1)
    while rows:
        page = empty_page(size, 1.0, of)
        for k in range(columns):
            last = k == columns - 1
            left = frame.left + k * wide
            bottom = frame.bottom + (title.height(size.column) if last else 0.0)
            box = Box(left, bottom, frame.right if last else left + wide, top)
            found = entries(rows, _FURTHER, box.width)
            n = taken(found, box.height)
            draw_entries(page, box, found[:n], rows, _FURTHER)
            rows = headed(rows, n)
            if k:
                page.line("DATA", (left, frame.bottom), (left, top))
            if not rows:
                break
        pages.append(page)
    return pages


def draw_mark(page: Page, box: Box, shown: Shown) -> None:
    """Write across the top of a sheet that its spring is not for making."""
    text = shown.text(MARK).upper()
    size = _MARK
    while text_width(text, size) > box.width - 12:
        size -= 0.1
    middle, y = (box.left + box.right) / 2, box.top - 1.45 * _MARK
    half = text_width(text, size) / 2 + 2
    page.box("MARK", middle - half, y - 1.6, middle + half, y + size + 1.6)
    page.text("MARK", (middle, y), text, size, "center")
