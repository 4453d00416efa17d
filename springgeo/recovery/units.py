"""Which unit the coordinates of a file are in: said by the file, by the user, or guessed."""

from __future__ import annotations

from typing import NamedTuple

from springgeo.errors import SpecError
from springgeo.findings import error

UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}
# wire that extension springs are wound of, mm: most of it, and nearly all (common practice)
_USUAL, _WOUND = (0.3, 10.0), (0.1, 20.0)
# asked in this order: most parts are drawn in mm, some in inches, few in m or cm
_ORDER = "mm", "in", "m", "cm"


class Unit(NamedTuple):
    """A unit, how many mm it is, and how that is known."""

    name: str
    factor: float
    known: str


def unit_of(wire: float, stated: float | None, asked: str | None) -> Unit:
    """Return the unit of a file whose wire's diameter is ``wire`` in it.

    Raises
    ------
    SpecError
        ``asked`` is no unit known here.
    """
    if asked is not None:
        if asked not in UNITS:
            text = f"'{asked[:20]}' is not a unit here; use one of: {', '.join(UNITS)}"
            raise SpecError(error("bad-unit", "file_unit", text))
        return Unit(asked, UNITS[asked], "as asked")
    if stated is not None:
        name = next((n for n, f in UNITS.items() if f == stated), f"{stated:g} mm")
        return Unit(name, stated, "as the file says")
    for low, high in (_USUAL, _WOUND):
        for name in _ORDER:
            if low <= wire * UNITS[name] <= high:
                return Unit(name, UNITS[name], "guessed from the wire's diameter")
    return Unit("mm", 1.0, "assumed: no unit makes it a usual wire")
