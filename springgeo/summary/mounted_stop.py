"""How far the spring may be drawn where it is mounted: the travel stop of a mechanism."""

from __future__ import annotations

import math

from springgeo.errors import SpecError
from springgeo.results.facts import Reached
from springgeo.summary import solved
from springgeo.summary.mounting import WireMounted
from springgeo.summary.verdict import weakest_mounted
from springgeo.worked.number import switched

# a load below the limit is looked for by this step, down to that share of where it begins; the
# limit is found to this share, or after so many tries
_APART, _LOWEST, _FINE, _TRIES = 1.6, 1e-3, 1e-8, 60


def mounted_stop(wire: WireMounted, straight: float) -> Reached:
    """Return load, N, and length, mm, at which the first stress reaches its allowable as mounted.

    ``straight`` is that load of the straight pull, N: no greater one is answered, so that, as in
    the verdict, the least of both rules. The free length where no load is held.
    """
    free = wire.curve.free_length
    with switched(False):
        load = _held(wire, float(straight))
        length = free + wire.place.solve(load).extension if load else free
    if not load:
        return Reached(load=0.0, length=free)
    load = solved.reached_mounted(wire.book, load)
    return Reached(load=load, length=solved.length(wire.book, load, length))


def _held(wire: WireMounted, straight: float) -> float:
    """Return the greatest load, N, up to one, that is held as mounted; zero if none is."""
    low = straight
    while _over(wire, low) > 0:
        low /= _APART
        if low < _LOWEST * straight:
            return 0.0
    if low == straight:
        return low
    high = low * _APART
    below, above, last = _over(wire, low), _over(wire, high), 0.0
    for _ in range(_TRIES):
        if high - low <= _FINE * high:
            break
        # by the chord, with half the weight of an end that stays twice (Illinois)
        share = -below / (above - below) if math.isfinite(above) else 0.5
        load = low + share * (high - low)
        if not low < load < high:
            break
        found = _over(wire, load)
        if found == 0.0:
            return load
        stays = found * last > 0.0
        if found < 0.0:
            low, below, above = load, found, above / 2 if stays else above
        else:
            high, above, below = load, found, below / 2 if stays else below
        last = found
    return low


def _over(wire: WireMounted, load: float) -> float:
    """Return by what share the greatest stress is over its allowable; infinite without a state."""
    try:
        least = weakest_mounted(wire.book, wire.stressed(load))
    except SpecError:
        return math.inf
    return -1.0 if least is None else 1.0 / least.margin - 1.0
