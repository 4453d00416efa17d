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


class LoadLine(Facts):
    """Load over length: the load curve, and the textbook's straight line beside it.

    ``handbook`` (straight; taken as rigid below the initial tension) and ``along_the_wire`` (the
    curve) start at the free length without load and at the initial tension; then the working
    points. ``curve`` is the whole of it, from the free length to the end of the stroke.
    """

    handbook: tuple[LoadPoint, ...]
    along_the_wire: tuple[LoadPoint, ...]
    rate_tolerance_percent: float
    rate_tolerance_known: str
    curve: tuple[CurvePoint, ...]
