"""Orders designs: the best compromise of the front first; then others, where it is short."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.search.kinds import weighted
from springgeo.sizing.search.place import Place
from springgeo.sizing.search.search import Found


def scores(found: Found) -> Array:
    """Return the weighted mean of the front's logarithmic costs, 0 at the best of each (n,)."""
    return weighted(found.job, found.costs / found.costs.min(axis=0))


def ranked(found: Found) -> Iterator[tuple[Place, float]]:
    """Yield places with their scores: the front's, then the best of each other wire and ends.

    Each end pair and wire comes once on the front. Loads of an energy that differ make springs
    that differ; loads within a tolerance do not.
    """
    if not found.places:
        return
    score = scores(found)
    seen = set()
    for n in np.argsort(score, kind="stable").tolist():
        place = found.places[n]
        line = place.line if found.job.energy is not None else 0
        kind = place.wire, place.ends, line
        if kind not in seen:
            seen.add(kind)
            yield place, float(score[n])
    beside = weighted(found.job, found.other_costs / found.costs.min(axis=0))
    for place, value in zip(found.others, beside.tolist(), strict=True):
        line = place.line if found.job.energy is not None else 0
        if (place.wire, place.ends, line) not in seen:
            yield place, float(value)


def alike(found: Found, a: Place, b: Place) -> bool:
    """Return whether two designs are one choice to a user: `Job.apart` says how far apart is.

    They are if both have the same ends, and wire diameter, coil diameter, rate and the wire's
    shear modulus each differ by less than that share.
    """
    if a.ends != b.ends:
        return False
    sizes = zip(_sizes(found, a), _sizes(found, b), strict=True)
    return all(abs(x - y) < found.job.apart * max(x, y) for x, y in sizes)


def _sizes(found: Found, place: Place) -> tuple[float, float, float, float]:
    d, G = (float(column[place.wire, 0]) for column in (found.wires.d, found.wires.G))
    return d, d * place.C, found.job.lines[place.line].k, G
