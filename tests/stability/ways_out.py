"""What is told to be enough is enough: ``python -m tests.stability.ways_out --count 200``.

A job that a spring is known to do is tightened until nothing fits: less room, or more margin than
any wire has. Each limit that ``size`` says would have to give alone, and those that would have to
give together, is moved as far as it says and no further; then something must fit. Ways out that
are no limit of the job (coils, initial tension, the tolerance of its loads) are not tried.
"""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import numpy as np

from springgeo import Spring
from springgeo.sizing import Job, job_of, size
from springgeo.sizing.answer.why_not import Reason
from springgeo.sizing.search.rules import rules_of

from . import known_jobs
from .trials import another, main
from .wild import Random, pick

# fields of a job that a number stands in
_MOVED = "envelope.", "least."
# a limit is told so far beyond its place
_ROUNDED = 2e-3


def trial(seed: int, folder: Path) -> bool:
    """Tighten one job, and give way."""
    rng = np.random.default_rng([7, seed])
    found = known_jobs.known(rng)
    if found is None:
        return False
    asked = tightened(rng, *found)
    another()
    job = job_of(asked)
    result = size(job, 1)
    if result.winners:
        return False
    alone = [[r] for r in result.why_not if r.alone]
    together = [r for r in result.why_not if not r.alone]
    tried = False
    for ways in (*alone, together):
        given = _given(job, asked, ways)
        if given is None:
            continue
        another()
        more = size(job_of(given), 1)
        why = [*more.turned_away, *(r.text for r in more.why_not)]
        assert more.winners, f"{[r.text for r in ways]} is not enough: {why}; {asked}, {given}"
        tried = True
    return tried


def tightened(rng: Random, data: dict[str, Any], loads: list[float]) -> dict[str, Any]:
    """Return a job that asks of a spring more than it has."""
    spring = Spring.from_dict(data)
    g = spring.summary().geometry
    points = [(spring.load_curve.length(x), x) for x in loads]
    asked: dict[str, Any] = {
        **known_jobs.need(rng, points),
        "choice": known_jobs.choice(rng, data),
        "objectives": ["mass"],
    }
    room, least = {}, {}
    kind = str(pick(rng, ("outside", "body", "hooks", "free", "both")))
    if kind in ("outside", "both"):
        room["outer_diameter"] = 0.6 * float(g.outer_diameter)
    if kind in ("body", "both"):
        least["body"] = 3.5
    if kind == "hooks":
        least |= {"hook_bending": 4.0, "hook_torsion": 4.0}
    if kind == "free":
        room["free_length"] = 0.8 * float(g.free_length)
    return asked | {"envelope": room, "least": least}


def _given(job: Job, asked: dict[str, Any], ways: list[Reason]) -> dict[str, Any] | None:
    """Return the job with limits moved as told; None where one of them is no limit of a job."""
    rules = {rule.name: rule for rule in rules_of(job)}
    given = copy.deepcopy(asked)
    for way in ways:
        rule = rules.get(way.rule)
        limit = None if rule is None or rule.limit is None else rule.limit(job)
        if rule is None or limit is None or not rule.field.startswith(_MOVED):
            return None
        room, name = rule.field.split(".")
        share = 1 + way.shortfall if rule.raise_to else 1 - way.shortfall
        given[room][name] = limit * share * (1 + _ROUNDED if rule.raise_to else 1 - _ROUNDED)
    return given if ways else None


if __name__ == "__main__":
    main("ways_out", trial)
