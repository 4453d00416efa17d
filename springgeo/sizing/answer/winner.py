"""A candidate made into a real spring: coils set by the rate along the wire, all rules again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from springgeo.api import Spring
from springgeo.errors import SpecError
from springgeo.mechanics import rate
from springgeo.results.summary import Fatigue
from springgeo.sizing.answer.tolerance import Spread, spreads
from springgeo.sizing.job.job import Job
from springgeo.sizing.search.candidate import Candidate
from springgeo.summary import Summary
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire
from springgeo.text import quantity as q
from springgeo.text.shown import said

PLACES = {"body": "body_shear", "a": "hook_bending_a", "b": "hook_torsion_b"}
# what rounding and interpolation may take from a margin
ROUNDING = 2e-3


@dataclass(frozen=True)
class Winner:
    """A spring that was built up and checked; ``misses`` says in words what it fails.

    ``margins`` are the lesser of handbook and along the wire; ``loads`` those at both lengths of
    the job, N, by the rate of the job's method. ``spreads``: how far the loads at the job's
    lengths stray when the spring is made to grade 2.
    """

    candidate: Candidate
    score: float
    specification: dict[str, Any]
    summary: Summary
    loads: tuple[float, float]
    margins: dict[str, float]
    misses: tuple[str, ...]
    spreads: tuple[Spread, ...]

    @property
    def chance(self) -> float:
        """The least share of springs within the load tolerance, over the job's points."""
        return min(s.chance for s in self.spreads)


def winner(job: Job, candidate: Candidate, score: float, name: str) -> Winner:
    """Return the real spring of a candidate; raises SpecError where it cannot be made."""
    data = candidate.specification(job, name)
    if job.method == "along-the-wire":
        data = _set_coils(candidate, data)
    summary = Spring.from_dict(data).summary()
    line, force = candidate.line, summary.initial_tension.force
    k = summary.rate if job.method == "handbook" else summary.along_the_wire.rate
    free = summary.free_length.model
    loads = force + k * (line.L_1 - free), force + k * (line.L_2 - free)
    margins = _margins(job, summary)
    misses = tuple(_misses(job, candidate, summary, loads, margins))
    spread = spreads(summary, _points(job, candidate))
    return Winner(candidate, score, data, summary, loads, margins, misses, spread)


def _points(job: Job, c: Candidate) -> list[tuple[float, float, float]]:
    """Return lengths, mm, with loads and their tolerances, N."""
    if job.energy is not None:
        share, line = job.energy.tolerance, c.line
        return [(x, f, share * f) for x, f in ((line.L_1, line.F_1), (line.L_2, line.F_2))]
    return [(p.length, p.load, p.tolerance * p.load) for p in job.load_points]


def _set_coils(c: Candidate, data: dict[str, Any]) -> dict[str, Any]:
    """Return the specification with coils and tension that follow the line along the wire.

    Flexibility rises by that of one coil, 8 D^3/(G d^4), with each; the rest is the hooks'.
    """
    body, line = data["body"], c.line
    model = Spring.from_dict(data).model
    wire = AlongWire(Handbook(model))
    coil = 1.0 / float(rate.rate(wire.book.material.shear_modulus, c.D, c.d, 1.0))
    more = (1.0 / line.k - 1.0 / wire.rate) / coil
    free = model.geometry.length + more * model.geometry.pitch
    force = max(line.F_1 - line.k * (line.L_1 - free), 0.0)
    changed = body | {
        "coils": float(f"{body['coils'] + more:.9g}"),
        "initial_tension": float(f"{force:.9g}"),
    }
    return data | {"body": changed}


def _margins(job: Job, s: Summary) -> dict[str, float]:
    book, wire = s.points[-1].margin, s.along_the_wire.points[-1].margin
    ways = (book,) if job.method == "handbook" else (book, wire)
    found = {}
    for place, name in PLACES.items():
        values = [v for way in ways if (v := getattr(way, name)) is not None]
        if values:
            found[place] = min(values)
    if s.fatigue is not None and (least := _fatigue(job, s.fatigue)) is not None:
        found["fatigue"] = least
    return found


def _fatigue(job: Job, cycle: Fatigue) -> float | None:
    """Return the least fatigue margin of the ways that count, or None without published data."""
    if job.method != "handbook":
        return cycle.margin
    places = (place.factor for place in cycle.handbook.values())
    return min((x for x in places if x is not None), default=None)


def _misses(
    job: Job, c: Candidate, s: Summary, loads: tuple[float, float], margins: dict[str, float]
) -> list[str]:
    found = []
    for place, value in margins.items():
        least = getattr(job.least, place)
        if value < least * (1 - ROUNDING):
            found.append(f"margin {place} {value:.3f} is below {least:g}")
    if job.service.duty != "static" and "fatigue" not in margins:
        found.append("no fatigue data are published for this wire")
    tension = s.initial_tension
    spread = (tension.preferred_high or 0.0) - (tension.preferred_low or 0.0)
    if job.initial_tension == "preferred" and tension.preferred_low is not None:
        low, high = tension.preferred_low, tension.preferred_high or 0.0
        if not low - 0.02 * spread <= tension.stress <= high + 0.02 * spread:
            found.append(
                said(
                    "initial stress {stress} is outside {low} to {high}",
                    stress=q.stress(tension.stress),
                    low=q.stress(low, unit=False),
                    high=q.stress(high),
                )
            )
    for load, wanted in zip(loads, (c.line.F_1, c.line.F_2), strict=True):
        if abs(load - wanted) > 0.005 * wanted:
            found.append(
                said(
                    "load {load} is not the {wanted} asked for",
                    load=q.force(load),
                    wanted=q.force(wanted),
                )
            )
    found += [f"check '{x.name}' failed" for x in s.checks if not x.ok]
    return found


def why_unmade(exc: SpecError) -> str:
    """Return the first reason of a refusal in one line."""
    return exc.findings[0].line()
