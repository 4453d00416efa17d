"""The load line at few points: the curve, the textbook's straight line, their tolerance bands."""

from __future__ import annotations

from springgeo.errors import refused
from springgeo.results.load_line import LoadPoint, LoadPoints
from springgeo.specification.tolerances import Tolerances
from springgeo.summary import origin
from springgeo.summary.handbook import Handbook
from springgeo.text.shown import word
from springgeo.trade import load_tolerance, rate_tolerance
from springgeo.trade.load_tolerance import Tolerance


def load_points(book: Handbook) -> LoadPoints:
    """Return both lines: no load, initial tension, then every working point."""
    free, tension, rate = book.L_0, book.initial_tension.force, rate_tolerance()
    none = origin.given(0.0, "F", "no load", "N", "none")
    start = [(none, free), (tension, book.length_at(tension))]
    found = [*start, *((p.load, p.length) for p in book.points)]
    held = [None, None, *given_loads(book, book.model.spec.tolerances)]
    asked = list(zip(found, held, strict=True))
    return LoadPoints(
        handbook=tuple(_point(book, x, book.straight_deflection(x), h) for (x, _), h in asked),
        along_the_wire=tuple(_point(book, x, length - free, h) for (x, length), h in asked),
        rate_tolerance_percent=rate.percent,
        rate_tolerance_known=rate.known,
    )


def given_loads(book: Handbook, asked: Tolerances | None) -> tuple[float | None, ...]:
    """Return the tolerance of every working point that is given, N, else None.

    Raises
    ------
    SpecError
        Another number of tolerances than of working points.
    """
    count = len(book.points)
    bands = () if asked is None else asked.loads or ()
    if not bands:
        return (None,) * count
    if len(bands) not in (1, count):
        text = f"{len(bands)} tolerances for {count} working points: give one, or one for each"
        raise refused("lists-differ", "tolerances.loads", text)
    each = bands if len(bands) == count else bands * count
    return tuple(b.of(float(p.load))[1] for b, p in zip(each, book.points, strict=True))


def _point(book: Handbook, load: float, deflection: float, held: float | None) -> LoadPoint:
    free = book.L_0
    tolerance = load_tolerance(book.C, book.d, free, deflection)
    if held is not None:
        percent = 100 * held / load if load > 0 else 0.0
        tolerance = Tolerance(percent, word("given in the specification"), "given")
    return LoadPoint(
        load=load,
        length=free + deflection,
        tolerance_percent=tolerance.percent,
        tolerance_source=tolerance.source,
        tolerance_known=tolerance.known,
    )
