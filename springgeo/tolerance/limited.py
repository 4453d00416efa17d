"""Between which limits loads, rate and free length must lie, and who says so."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from springgeo.specification.tolerances import Tolerances
from springgeo.summary.handbook import Handbook
from springgeo.summary.load_line import given_loads
from springgeo.tolerance.inputs import GIVEN
from springgeo.tolerance.truth import Answer, Asked
from springgeo.trade import load_tolerance, rate_tolerance


class Limit(NamedTuple):
    """Least and greatest value, with source and how that is known."""

    low: float
    high: float
    source: str
    known: str


def limits_of(
    book: Handbook, asked: Tolerances, nominal: Mapping[Answer, float]
) -> dict[Answer, Limit]:
    """Return the limits of what is limited, by the answers with their nominal values.

    Loads: as given, else the sheet's. The rate: as given, else common practice where no load
    is judged.

    Raises
    ------
    SpecError
        Another number of tolerances than of loads.
    """
    given = given_loads(book, asked)
    loads = [a for a in nominal if a.kind == "load"]
    found = {a: _of_load(book, a.point, given[a.point.number - 1]) for a in loads if a.point}
    if asked.rate is not None or not found:
        found |= {a: _of_rate(asked, value) for a, value in nominal.items() if a.kind == "rate"}
    return found


def _of_load(book: Handbook, p: Asked, given: float | None) -> Limit:
    if given is not None:
        return Limit(p.load - given, p.load + given, GIVEN, GIVEN)
    free = float(book.L_0)
    held = load_tolerance(float(book.C), float(book.d), free, p.length - free)
    off = p.load * held.percent / 100
    return Limit(p.load - off, p.load + off, held.source, held.known)


def _of_rate(asked: Tolerances, nominal: float) -> Limit:
    if asked.rate is not None:
        low, high = asked.rate.of(nominal)
        return Limit(nominal + low, nominal + high, GIVEN, GIVEN)
    held = rate_tolerance()
    off = nominal * held.percent / 100
    return Limit(nominal - off, nominal + off, held.source, held.known)
