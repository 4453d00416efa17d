"""Load over length."""

from __future__ import annotations

from springgeo.results.facts import Facts
from springgeo.results.loaded import CurvePoint


class LoadPoint(Facts):
    """One point of the load line: N, mm; ``tolerance_percent`` of the load, plus and minus."""

    load: float
    length: float
    tolerance_percent: float
    tolerance_source: str
    tolerance_known: str


class LoadPoints(Facts):
    """Load over length, the load curve and the textbook's straight line beside it, at few points.

    ``handbook`` (straight; taken as rigid below the initial tension) and ``along_the_wire`` (the
    curve) start at the free length without load and at the initial tension; then the working
    points.
    """

    handbook: tuple[LoadPoint, ...]
    along_the_wire: tuple[LoadPoint, ...]
    rate_tolerance_percent: float
    rate_tolerance_known: str


class LoadLine(LoadPoints):
    """The same with the whole load curve, from the free length to the end of the stroke."""

    curve: tuple[CurvePoint, ...]
