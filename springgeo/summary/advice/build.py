"""Every rule asked, what it finds put in order."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from springgeo.findings import Finding, by_severity
from springgeo.results.fatigue import Fatigue
from springgeo.results.load_line import LoadPoints
from springgeo.results.loaded import CurvePoint
from springgeo.summary.advice import load, shape
from springgeo.summary.advice.along_wire import along_wire
from springgeo.summary.advice.cycle import fatigue
from springgeo.summary.advice.loaded import Leans, off_the_axis, off_the_straight_line, out_of_line
from springgeo.summary.handbook import Handbook
from springgeo.summary.temperature import temperature_findings
from springgeo.summary.wire import AlongWire

RULES = (
    shape.index,
    shape.coils,
    shape.bends,
    shape.angle,
    load.tension,
    load.no_tension,
    load.loads,
    load.margins,
    lambda book: temperature_findings(book.model),
    load.frequency,
    shape.ends,
    shape.inches,
    shape.material,
)


def advice(
    book: Handbook,
    wire: AlongWire,
    cycle: Fatigue | None,
    line: LoadPoints,
    leans: Leans,
    curve: Callable[[], Sequence[CurvePoint]],
) -> tuple[Finding, ...]:
    """Return every finding about a spring that can be made, gravest first.

    ``curve`` is asked for where the load curve has to be told of: it costs as much as the rest.
    """
    found = [f for rule in RULES for f in rule(book)]
    return by_severity(
        [
            *found,
            *along_wire(book, wire),
            *off_the_axis(book, wire, leans, curve),
            *out_of_line(book),
            *off_the_straight_line(book, line),
            *fatigue(book, cycle),
        ]
    )
