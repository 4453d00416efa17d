"""Orders a front: the best compromise first, and no two designs of one wire and end pair."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.search.scan import Place
from springgeo.sizing.search.search import Found


def scores(found: Found) -> Array:
    """Return the weighted sum of the costs' logarithms over the best of each, 0 at best (n,)."""
    job = found.job
    weight = np.array([job.weights.get(name, 1.0) for name in job.objectives])
    total = np.log(found.costs / found.costs.min(axis=0)) @ weight
    return np.asarray(total / max(weight.sum(), 1e-12))


def ranked(found: Found) -> Iterator[tuple[Place, float]]:
    """Yield places with their scores, best first; each end pair and wire once.

    Loads of an energy that differ make springs that differ; loads within a tolerance do not.
    """
    if not found.places:
        return
    score = scores(found)
    seen = set()
    for n in np.argsort(score, kind="stable").tolist():
        place = found.places[n]
        line = place.line if found.job.energy is not None else 0
        wire = found.wires.material[place.wire], place.wire, place.ends, line
        if wire not in seen:
            seen.add(wire)
            yield place, float(score[n])
