"""One spring asked both ways: by how much the handbook is off along the wire."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from springgeo.api import Spring
from springgeo.mechanics import rate
from springgeo.mechanics.value import Value
from springgeo.sizing.answer.knee import parting
from springgeo.sizing.job.job import Job
from springgeo.sizing.search.candidate import Candidate
from springgeo.sizing.search.factors import Factors
from springgeo.spring.model import SpringModel
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire

# whole coils of a trial: neither stress nor flexibility of its hooks knows of them, but where the
# pull runs beside the axis; then its own, up to so many
COILS, MOST_COILS = 12, 100
# of trials with so many the knee is asked
PARTING = 8, 24


def factors(
    c: Candidate,
    job: Job,
    index: float,
    knee: tuple[Value, Value] | None = None,
    part: float | None = None,
) -> Factors:
    """Return what the handbook must be multiplied by for springs like this one, at an index.

    Stress factors below 1 are 1: the lesser margin of both ways counts. ``knee``: what a spring
    with these ends said of where its coils are apart, for that hardly hangs on the index; asked
    of trials if None. ``part``: the fraction of a coil that trials have; the spring's own if None.

    Raises
    ------
    SpecError
        The spring cannot be made.
    """
    if part is not None:
        # the spring's coils are of the same fraction
        whole = max(round(c.coils - part), 2) if math.isfinite(c.coils) else COILS
        c = replace(c, coils=whole + part)
    book = Handbook(Spring.from_dict(_trial(c, job, index, COILS)).model)
    knee = knee or parting(_trials(c, job, index))
    if off_the_axis(book.model):
        found = _off_the_axis(c, job, index, knee)
        if part is None:  # another fraction would have other contacts
            return found
        return found._replace(part=part, aside=_aside(book.model) / c.d)
    wire = AlongWire(book)
    G, turns = book.material.shear_modulus, book.model.turns
    one_coil = 1.0 / float(rate.rate(G, index * c.d, c.d, 1.0))
    body = wire.unit.compliance["body"] / one_coil
    beside = 1.0 / (wire.rate * one_coil) - body - (book.working_coils - turns)
    hooks = book.active_coils - book.working_coils
    # pulled, a spring bears some per cent more than small loads tell; not beyond what it may bear
    load, length = c.line.F_2, book.model.geometry.length
    load *= min(1.0, float(book.allowable.body_shear or 0.0) / book.point(load, length).body_shear)
    at = book.point(load, length)
    return Factors(
        body / turns,
        1.0 if hooks <= 0 else beside / hooks,
        _more(wire.stress("body", load), at.body_shear),
        _more(wire.stress("A", load), at.hook_bending),
        _more(wire.stress("B", load), at.hook_torsion),
        *knee,
    )


def off_the_axis(model: SpringModel) -> bool:
    """Return whether a spring is pulled beside its body's axis."""
    return max(model.geometry.first.offset, model.geometry.second.offset) > 0


def _off_the_axis(c: Candidate, job: Job, index: float, knee: tuple[Value, Value]) -> Factors:
    """Return the factors of a spring pulled beside its axis: at the loads of the job.

    Such a spring tilts and bows until the pull runs near its axis: what small loads do to it says
    nothing of what its loads do.
    """
    coils = min(c.coils, MOST_COILS) if math.isfinite(c.coils) else COILS
    book = Handbook(Spring.from_dict(_trial(c, job, index, math.floor(coils))).model)
    wire, curve = AlongWire(book), book.curve
    G, turns = book.material.shear_modulus, book.model.turns
    one_coil = 1.0 / float(rate.rate(G, index * c.d, c.d, 1.0))
    low, high = c.line.F_1, c.line.F_2
    whole = (curve.length(high) - curve.length(low)) / (high - low) / one_coil
    at = book.point(high, book.model.geometry.length)
    return Factors(
        (whole - (book.active_coils - turns)) / turns,
        1.0,
        _more(wire.stress("body", high), at.body_shear),
        _more(wire.stress("A", high), at.hook_bending),
        _more(wire.stress("B", high), at.hook_torsion),
        *knee,
    )


def _aside(model: SpringModel) -> float:
    """Return how far out of line the contacts of a spring are, mm."""
    a, b = model.geometry.pull_points
    return math.hypot(*(b - a)[:2].tolist())


def _trial(c: Candidate, job: Job, index: float, coils: float) -> dict[str, Any]:
    data = c.specification(job, "trial")
    # the hooks stand to each other as in the spring itself
    part = c.coils % 1.0 if math.isfinite(c.coils) else 0.0
    data["body"] = {"mean_diameter": index * c.d, "coils": coils + part, "initial_tension": 0}
    # the job's loads are no points of the trial
    data["service"] = {k: v for k, v in data["service"].items() if k not in ("loads", "lengths")}
    return data


def _trials(c: Candidate, job: Job, index: float) -> Iterator[SpringModel]:
    """Yield a short spring and a longer one, wound as makers do: amid the preferred range."""
    for n in PARTING:
        data = _trial(c, job, index, n)
        del data["body"]["initial_tension"]
        yield Spring.from_dict(data).model


def _more(wire: float | None, book: float | None) -> float:
    return 1.0 if not wire or not book else max(1.0, wire / book)
