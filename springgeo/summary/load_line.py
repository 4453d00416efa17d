"""The load line: load over length with its initial-tension offset and tolerance bands."""

from __future__ import annotations

from springgeo.results.summary import LoadLine, LoadPoint
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire
from springgeo.trade import load_tolerance, rate_tolerance


def load_line_facts(book: Handbook, wire: AlongWire) -> LoadLine:
    """Return both load lines: no load, initial tension, then every working point."""
    loads = [0.0, book.initial_tension.force, *(p.load for p in book.points)]
    rate = rate_tolerance()
    return LoadLine(
        handbook=tuple(_point(book, x, book.deflection(x)) for x in loads),
        along_the_wire=tuple(_point(book, x, wire.deflection(x)) for x in loads),
        rate_tolerance_percent=rate.percent,
        rate_tolerance_known=rate.known,
    )


def _point(book: Handbook, load: float, deflection: float) -> LoadPoint:
    body, free = book.model.body, book.model.geometry.length
    tolerance = load_tolerance(body.index, body.diameter, free, deflection)
    return LoadPoint(
        load=load,
        length=free + deflection,
        tolerance_percent=tolerance.percent,
        tolerance_source=tolerance.source,
        tolerance_known=tolerance.known,
    )
