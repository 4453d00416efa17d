"""The maker's page: cut length, bending table, winding, heat treatment, inspection list."""

from __future__ import annotations

import math
from collections.abc import Iterator

from springgeo.drawing.grid import Grid
from springgeo.drawing.notes import fails
from springgeo.drawing.page import Page
from springgeo.drawing.rows.row import Row, Sheet
from springgeo.drawing.rows.table import Box, draw_entries, entries, taken
from springgeo.drawing.sheet import MARK_ROOM, PAPERS, SHOWN, draw_mark, empty_page, headed
from springgeo.drawing.title import Title
from springgeo.making import MakerData
from springgeo.making.inspection import Check
from springgeo.specification.making import Paper
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.naming import piece_words
from springgeo.text.quantity import Quantity, degrees, force, length, number, stress, temperature
from springgeo.text.shown import Shown, said, word

_SIZE = 2.5


def maker_pages(
    model: SpringModel,
    summary: Summary,
    data: MakerData,
    paper: Paper = "A4",
    shown: Shown = SHOWN,
) -> list[Page]:
    """Return the maker's sheets, as many as needed.

    Parameters
    ----------
    model : SpringModel
    summary : Summary
    data : MakerData
        Of the same spring.
    paper : {"A4", "A3", "Letter"}
    shown : Shown
        The reader's units and language.
    """
    size = PAPERS[paper]
    of, frame = Sheet(model, summary, size.trade), size.frame
    title = Title(of, shown, size.projection, paper)
    split = frame.right - size.column
    high = title.height(size.column)
    top = frame.top - (MARK_ROOM if fails(of) else 0.0)
    rows = [Row(*(shown.text(t) for t in row)) for row in _rows(of, data)]
    grids, at = [_bending(data, shown), _inspection(data, shown)], 0
    pages: list[Page] = []
    while rows or grids:
        page = empty_page(size, 1.0, of)
        page.line("FRAME", (split, frame.bottom), (split, top))
        box = Box(split, frame.bottom + high, frame.right, top)
        found = entries(rows, _SIZE, box.width)
        n = taken(found, box.height)
        draw_entries(page, box, found[:n], rows, _SIZE)
        rows = headed(rows, n)
        y = top
        while grids:
            left = Box(frame.left, frame.bottom + 1, split, y)
            whole = grids[0].height(left.width)
            if at == 0 and y < top and left.height < whole <= top - left.bottom:
                break  # in one piece on the next sheet
            at, y = grids[0].draw(page, left, at)
            if at < len(grids[0].rows):
                break
            grids, at = grids[1:], 0
        pages.append(page)
    for k, page in enumerate(pages, 1):
        title.draw(
            page, Box(split, frame.bottom, frame.right, frame.bottom + high), f"{k}/{len(pages)}"
        )
        if fails(of):
            draw_mark(page, frame, shown)
    return pages


def _rows(of: Sheet, data: MakerData) -> Iterator[Row]:
    g = of.summary.geometry
    yield Row("", word("WIRE"), "")
    yield Row("", word("material"), of.summary.material.title)
    yield Row("d", word("wire diameter"), said("{length}", length=length(g.wire_diameter)))
    yield Row("", word("cut length"), said("{length}", length=length(data.cut_length)))
    yield Row("", word("mass"), said("{mass}", mass=Quantity("mass", g.mass, 3)))
    yield from _winding(of, data)
    yield from _heat(data)
    yield Row("", word("NOTES"), "")
    for k, text in enumerate(_notes(data), 1):
        yield Row(f"{k}", "", text)


def _winding(of: Sheet, data: MakerData) -> Iterator[Row]:
    g = of.summary.geometry
    yield Row("", word("WINDING (estimates)"), "")
    finished = said(
        "{coils} on D {mean}", coils=number(round(g.body_coils, 2), 9), mean=length(g.mean_diameter)
    )
    yield Row("", word("finished coils"), finished)
    for w in data.winding.wound:
        yield Row("", word("if it flows at"), said("{flow}", flow=stress(w.flow, places=0)))
        arbor = said("Ø {length}", length=length(round(w.arbor, 2)))
        if w.arbor <= 0:
            arbor = word("none is thin enough")
        yield Row("", word("arbor"), arbor)
        wound = said("{coils} on D {mean}", coils=number(round(w.coils, 2), 9), mean=length(w.mean))
        yield Row("", word("coils as wound"), wound)
        if of.model.body.is_open:
            yield Row("", word("pitch as wound"), said("{length}", length=length(w.pitch)))
    if not of.model.body.is_open:
        yield Row("", word("pitch as wound"), word("d, pressed together"))


def _heat(data: MakerData) -> Iterator[Row]:
    w = data.winding
    yield Row("", word("STRESS RELIEF"), "")
    if w.relief is None:
        yield Row("", word("usual"), word("not published here; as the wire's maker says"))
        return
    at = said("{low}", low=temperature(w.relief.low, 3))
    if w.relief.high > w.relief.low:
        at = said(
            "{low} to {high}", low=temperature(w.relief.low, 3), high=temperature(w.relief.high, 3)
        )
    usual = said("{at}, {minutes} min", at=at, minutes=number(w.relief.minutes))
    yield Row("", word("usual"), usual)
    answer = {
        "shrinks": word("shrinks a little"),
        "opens": word("opens a little"),
        "not known": word("not known"),
    }
    yield Row("", word("coil diameter then"), answer[w.relief.coil])
    if w.loss is not None and w.tension is not None:
        lost = said(
            "{low} to {high} %", low=number(100 * w.loss.low), high=number(100 * w.loss.high)
        )
        yield Row("F0", word("initial tension lost"), lost)
        wound = said(
            "{low} to {high}", low=force(w.tension[0], 3, unit=False), high=force(w.tension[1], 3)
        )
        yield Row("", word("so wind in"), wound)


def _notes(data: MakerData) -> Iterator[str]:
    yield said(
        "Bending: turn the wire by rotate, then feed it while it bends at the radius; in coils the "
        "plane also turns by twist, evenly. X, Y, Z: where the step ends, without load. No "
        "springback is in the table. True to {tolerance}.",
        tolerance=length(data.tolerance, 1),
    )
    yield said(
        "Arbor: pure elastic-plastic bending, {source}; the winding tension is left out. Find the "
        "arbor by trial.",
        source=data.winding.source,
    )
    if data.winding.relief is not None:
        yield said("Stress relief: {source}.", source=word(data.winding.relief.source))
    if data.winding.loss is not None:
        yield said(
            "Tension lost: {source} ({known}).",
            source=word(data.winding.loss.source),
            known=word(data.winding.loss.known),
        )
    yield word("Sampling: as agreed; none is given here.")


def _bending(data: MakerData, shown: Shown) -> Grid:
    def mm(x: float) -> str:
        return shown.value(Quantity("length", x, places=3))

    def deg(x: float) -> str:
        return shown.value(degrees(math.degrees(x), places=2))

    unit = shown.unit("length")
    header = ("", word("piece"), word("feed"), word("rotate"), word("bend angle"), word("radius"))
    labels = (*(shown.text(h) for h in header), shown.text(word("twist")), "X", "Y", "Z")
    marked = [
        f"{h}, {unit}" if k in (2, 5, 7, 8, 9) else f"{h}, °" if k in (3, 4, 6) else h
        for k, h in enumerate(labels)
    ]
    rows = tuple(
        (
            str(k),
            shown.text(piece_words(row.label)),
            mm(row.feed),
            deg(row.rotate),
            deg(row.bend),
            "–" if row.radius is None else mm(row.radius),
            deg(row.twist),
            *(mm(v) for v in end),
        )
        for k, (row, end) in enumerate(zip(data.rows, data.points[1:].tolist(), strict=True), 1)
    )
    return Grid(shown.text(word("BENDING TABLE")), tuple(marked), rows, wraps=(1,), ditto=(1,))


def _inspection(data: MakerData, shown: Shown) -> Grid:
    header = (
        word("symbol"),
        word("what"),
        word("nominal"),
        word("from"),
        word("to"),
        word("how"),
        word("measured"),
    )
    rows = tuple(
        (
            c.symbol,
            shown.text(c.what),
            *(_value(c, x, shown) for x in (c.nominal, c.low, c.high)),
            shown.text(c.how),
            "",
        )
        for c in data.inspection
    )
    labels = tuple(shown.text(h) for h in header)
    return Grid(shown.text(word("INSPECTION")), labels, rows, wraps=(1, 5))


def _value(check: Check, value: float | None, shown: Shown) -> str:
    if value is None:
        return "–"
    places = {"number": 2, "degrees": 1}.get(check.kind)
    if places is not None:
        value = round(value, places)
    return shown.quantity(Quantity(check.kind, value))
