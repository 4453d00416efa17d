"""One spring asked both ways: by how much the handbook is off along the wire."""

from __future__ import annotations

import math

from springgeo.api import Spring
from springgeo.mechanics import rate
from springgeo.sizing.job.job import Job
from springgeo.sizing.search.candidate import Candidate
from springgeo.sizing.search.factors import Factors
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire

# whole coils of a trial: neither stress nor flexibility of its hooks knows of them
COILS = 12


def factors(c: Candidate, job: Job, index: float) -> Factors:
    """Return what the handbook must be multiplied by for springs like this one, at an index.

    Stress factors below 1 are 1: the lesser margin of both ways counts.

    Raises
    ------
    SpecError
        The spring cannot be made.
    """
    data = c.specification(job, "trial")
    # the hooks stand to each other as in the spring itself
    part = c.coils % 1.0 if math.isfinite(c.coils) else 0.0
    data["body"] = {"mean_diameter": index * c.d, "coils": COILS + part, "initial_tension": 0}
    book = Handbook(Spring.from_dict(data).model)
    wire = AlongWire(book)
    G, turns = book.material.shear_modulus, book.model.turns
    one_coil = 1.0 / float(rate.rate(G, index * c.d, c.d, 1.0))
    body = wire.unit.compliance["body"] / one_coil
    beside = 1.0 / (wire.rate * one_coil) - body - (book.working_coils - turns)
    hooks = book.active_coils - book.working_coils
    one = book.point(1.0, book.model.geometry.length)
    return Factors(
        body / turns,
        1.0 if hooks <= 0 else beside / hooks,
        _more(wire.stress("body", 1.0), one.body_shear),
        _more(wire.stress("A", 1.0), one.hook_bending_a),
        _more(wire.stress("B", 1.0), one.hook_torsion_b),
    )


def _more(wire: float | None, book: float | None) -> float:
    return 1.0 if not wire or not book else max(1.0, wire / book)
