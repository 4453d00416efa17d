"""One sheet for the spring maker: views, diagram, data, notes, title block."""

from __future__ import annotations

from typing import Literal, NamedTuple

from springgeo.drawing.data_rows import data_rows
from springgeo.drawing.diagram import draw_diagram
from springgeo.drawing.dimensions import draw_dimensions
from springgeo.drawing.layout import Projection, place_views
from springgeo.drawing.page import Line, Page
from springgeo.drawing.table import Box, draw_table
from springgeo.drawing.title import draw_notes, draw_title, notes
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.trade.dimension_tolerance import Trade

Paper = Literal["A4", "A3", "Letter"]


class _Size(NamedTuple):
    width: float
    height: float
    column: float
    title: float
    projection: Projection
    trade: Trade


PAPERS: dict[Paper, _Size] = {
    "A4": _Size(297.0, 210.0, 100.0, 32.0, "first", "metric"),
    "A3": _Size(420.0, 297.0, 128.0, 40.0, "first", "metric"),
    "Letter": _Size(279.4, 215.9, 100.0, 32.0, "third", "us"),
}
_FILE_EDGE, _EDGE = 20.0, 8.0  # the wider margin is for punched holes


def sheet(model: SpringModel, summary: Summary, paper: Paper = "A4") -> Page:
    """Return the drawing of a spring without load.

    Parameters
    ----------
    model : SpringModel
    summary : Summary
        Of the same spring; every number on the sheet is one of its values.
    paper : {"A4", "A3", "Letter"}
        A sizes are drawn in first-angle projection with metric tolerances, Letter in third-angle
        with those of the US trade.
    """
    size = PAPERS[paper]
    frame = Box(_FILE_EDGE, _EDGE, size.width - _EDGE, size.height - _EDGE)
    split = frame.right - size.column
    low = frame.bottom + 0.40 * frame.height
    views = place_views(model.geometry, Box(frame.left, low, split, frame.top), size.projection)
    page = Page(size.width, size.height, views.scale, summary.name)
    page.box("FRAME", *frame)
    page.line("FRAME", (split, frame.bottom), (split, frame.top))
    for view in (views.front, views.end, views.second):
        if view is not None:
            page.lines += [Line("OUTLINE", view.flat(line)) for line in view.seen.lines]
            page.lines += [Line("FITTING", view.flat(line)) for line in view.seen.fittings]
            page.lines += [Line("BREAK", view.flat(line)) for line in view.waves]
    draw_dimensions(page, views, summary, size.trade)
    middle = frame.left + 0.54 * (split - frame.left)
    draw_diagram(page, Box(frame.left, frame.bottom, middle, low - 4), summary)
    texts = notes(summary, size.trade, views.front.gap.coils)
    draw_notes(page, Box(middle, frame.bottom, split, low), texts)
    title = Box(split, frame.bottom, frame.right, frame.bottom + size.title)
    draw_title(page, title, summary, size.projection, paper)
    table = Box(split, title.top, frame.right, frame.top)
    draw_table(page, table, data_rows(model, summary, size.trade))
    return page
