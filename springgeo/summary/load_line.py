"""The load line: the curve, the textbook's straight line, and their tolerance bands."""

from __future__ import annotations

from springgeo.results.load_line import LoadLine, LoadPoint
from springgeo.results.pull import Pull
from springgeo.summary import origin
from springgeo.summary.handbook import Handbook
from springgeo.summary.loaded import curve_points
from springgeo.trade import load_tolerance, rate_tolerance


def load_line_facts(book: Handbook, pull: Pull) -> LoadLine:
    """Return both lines: no load, initial tension, then every working point; and the curve."""
    free, tension, rate = book.L_0, book.initial_tension.force, rate_tolerance()
    none = origin.given(0.0, "F", "no load", "N", "none")
    start = [(none, free), (tension, book.length_at(tension))]
    found = [*start, *((p.load, p.length) for p in book.points)]
    return LoadLine(
        handbook=tuple(_point(book, x, book.straight_deflection(x)) for x, _ in found),
        along_the_wire=tuple(_point(book, x, length - free) for x, length in found),
        rate_tolerance_percent=rate.percent,
        rate_tolerance_known=rate.known,
        curve=curve_points(book, pull),
    )


def _point(book: Handbook, load: float, deflection: float) -> LoadPoint:
    free = book.L_0
    tolerance = load_tolerance(book.C, book.d, free, deflection)
    return LoadPoint(
        load=load,
        length=free + deflection,
        tolerance_percent=tolerance.percent,
        tolerance_source=tolerance.source,
        tolerance_known=tolerance.known,
    )
