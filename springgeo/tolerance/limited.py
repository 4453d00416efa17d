"""Between which limits loads, rate and free length must lie, and who says so."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.specification.tolerances import Band, Tolerances
from springgeo.summary.handbook import Handbook
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
    book: Handbook, asked: Tolerances, points: Sequence[Asked], nominal: Mapping[Answer, float]
) -> dict[Answer, Limit]:
    """Return the limits of what is limited, by the answers with their nominal values.

    Loads: as given, else the sheet's. The rate: as given, else common practice where no load
    is judged.

    Raises
    ------
    SpecError
        Another number of tolerances than of loads.
    """
    given: tuple[Band, ...] = asked.loads or ()
    if len(given) > 1 and len(given) != len(points):
        text = (
            f"{len(given)} tolerances for {len(points)} working points: give one, or one for each"
        )
        raise SpecError(error("lists-differ", "tolerances.loads", text))
    loads = [a for a in nominal if a.kind == "load"]
    found = {a: _of_load(book, a.point, given) for a in loads if a.point is not None}
    if asked.rate is not None or not found:
        found |= {a: _of_rate(asked, value) for a, value in nominal.items() if a.kind == "rate"}
    return found


def _of_load(book: Handbook, p: Asked, given: tuple[Band, ...]) -> Limit:
    if given:
        low, high = given[0 if len(given) == 1 else p.number - 1].of(p.load)
        return Limit(p.load + low, p.load + high, GIVEN, GIVEN)
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
