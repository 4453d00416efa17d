"""A candidate made into a real spring: coils set by the rate along the wire, all rules again."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from springgeo.api import Spring
from springgeo.errors import SpecError
from springgeo.mechanics import rate
from springgeo.message import Message
from springgeo.sizing.answer.corrected import off_the_axis
from springgeo.sizing.answer.recheck import Miss, margins_of, misses_of
from springgeo.sizing.answer.tolerance import Spread, spreads
from springgeo.sizing.job.job import Job
from springgeo.sizing.job.need import Line
from springgeo.sizing.search.candidate import Candidate
from springgeo.summary import Summary
from springgeo.text.shown import together

# the objective for which winners are asked whole how they stray
IN_TOLERANCE = "in_tolerance"
# how near the load curve comes to the points, in how many rounds, and which part of a step is
# gone where the whole of it leads away
_MET, _ROUNDS, _PART = 2e-6, 8, 0.3


@dataclass(frozen=True)
class Winner:
    """A spring that was built up and checked; ``misses`` says what it fails.

    ``margins`` are the lesser of handbook and along the wire; ``loads`` those at both lengths of
    the job, N: by the load curve, or by the handbook's straight line if that is the job's method.
    ``spreads``: how far the loads at the job's lengths stray when the spring is made to grade 2;
    by the closed form and the nominal spring's correction, or, where the job's objectives ask for
    the share in tolerance, by the correction of every dimension; empty where it misses anything.
    """

    candidate: Candidate
    score: float
    specification: dict[str, Any]
    summary: Summary
    loads: tuple[float, float]
    margins: dict[str, float]
    misses: tuple[Miss, ...]
    spreads: tuple[Spread, ...]

    @property
    def rate(self) -> float:
        """Between both lengths of the job, N/mm."""
        line, (low, high) = self.candidate.line, self.loads
        return (high - low) / (line.L_2 - line.L_1)

    @property
    def chance(self) -> float:
        """The least share of springs within the load tolerance, over the job's points."""
        return min(s.chance for s in self.spreads)


def winner(job: Job, candidate: Candidate, score: float, name: str) -> Winner:
    """Return the real spring of a candidate; raises SpecError where it cannot be made."""
    data = candidate.specification(job, name)
    spring = Spring.from_dict(data)
    if job.method == "along-the-wire":
        spring = on_the_curve(candidate, spring)
    elif off_the_axis(spring.model):
        spring = _on_the_straight_line(candidate.line, spring)
    summary, line = spring.summary(), candidate.line
    at = [_nominal(job, spring, x) for x in (line.L_1, line.L_2)]
    loads = at[0], at[1]
    margins = margins_of(job, summary)
    misses = misses_of(job, candidate.line, summary, loads, margins)
    # nobody asks how a spring strays that is none
    strayed = () if misses else _strayed(job, spring, line)
    body = spring.spec.body
    data["body"] |= {"coils": body.coils, "initial_tension": body.initial_tension}
    return Winner(candidate, score, data, summary, loads, margins, misses, strayed)


def _strayed(job: Job, spring: Spring, line: Line) -> tuple[Spread, ...]:
    """Return how the loads at the job's lengths stray."""
    book, whole = spring.along_the_wire.book, IN_TOLERANCE in job.objectives
    return spreads(book, job.limited_loads(line), job.method, whole=whole)


def _nominal(job: Job, spring: Spring, length: float) -> float:
    """Return the load at a length, N, by the job's method."""
    if job.method == "handbook":
        return _straight(spring, length)
    return spring.load_curve.load(length)


def _on_the_straight_line(line: Line, spring: Spring) -> Spring:
    """Return the spring with the tension that its own length asks for, by the handbook.

    From contact to contact it is longer than the search takes it to be, which is along the axis.
    """
    off = _straight(spring, line.L_1) - line.F_1
    return _changed(spring, 0.0, _force(spring) - off)


def _straight(spring: Spring, length: float) -> float:
    return spring.along_the_wire.book.straight_load(length)


def on_the_curve(c: Candidate, spring: Spring) -> Spring:
    """Return the spring with coils and tension set so that its load curve meets both points.

    Flexibility rises by that of one coil, 8 D^3/(G d^4), with each; first by the rate of small
    loads, which says nothing of a spring pulled beside its axis, then by the curve between the
    points. In the knee, where coils part late, no spring may come to both points: the one that
    came nearest is returned. Raises SpecError where the curve does not reach.
    """
    line, book = c.line, spring.along_the_wire.book
    coil = 1.0 / float(rate.rate(book.material.shear_modulus, c.D, c.d, 1.0))
    if not off_the_axis(spring.model):
        more = (1.0 / line.k - 1.0 / spring.along_the_wire.rate) / coil
        free = spring.free_length + _longer(spring, more)
        spring = _changed(spring, more, line.F_1 - line.k * (line.L_1 - free))
    nearest, least, more, tension = spring, math.inf, 0.0, 0.0
    for _ in range(_ROUNDS):
        off = _off(line, spring)
        miss = max(abs(off[0]) / line.F_1, abs(off[1]) / line.F_2)
        if miss < least:
            nearest, least = spring, miss
            more, tension = _step(line, spring, off, coil)
        elif math.isinf(least):
            break
        else:
            more, tension = _PART * more, _PART * tension
        if least < _MET:
            break
        spring = _changed(nearest, more, _force(nearest) + tension)
    return nearest


def _off(line: Line, spring: Spring) -> tuple[float, float]:
    """Return by how much the loads at both lengths are off, N; infinite where a hook is loose."""
    if spring.free_length >= line.L_1:
        return math.inf, math.inf
    curve = spring.load_curve
    return curve.load(line.L_1) - line.F_1, curve.load(line.L_2) - line.F_2


def _step(line: Line, spring: Spring, off: tuple[float, float], coil: float) -> tuple[float, float]:
    """Return by how many coils, and by how much tension, N, the loads would be met.

    ``coil``: what a coil more gives, mm/N.
    """
    k = line.k + (off[1] - off[0]) / (line.L_2 - line.L_1)
    more = (1.0 / line.k - 1.0 / k) / coil
    # at the first length the load goes with the rate, and a longer spring takes from it
    tension = (k - line.k) * (line.L_1 - spring.free_length) - off[0]
    return more, tension + line.k * _longer(spring, more)


def _force(spring: Spring) -> float:
    return spring.along_the_wire.book.initial_tension.force


def _longer(spring: Spring, more: float) -> float:
    """Return by how much a spring is longer with more coils, mm; they turn its ends as well."""
    coils = float(f"{spring.model.turns + more:.9g}")
    return spring.with_({"body.coils": coils}).free_length - spring.free_length


def _changed(spring: Spring, more: float, tension: float) -> Spring:
    coils = spring.model.turns + more
    return spring.with_(
        {
            "body.coils": float(f"{coils:.9g}"),
            "body.initial_tension": float(f"{max(tension, 0.0):.9g}"),
        }
    )


def why_unmade(exc: SpecError) -> Message:
    """Return the first reason of a refusal in one line."""
    first = exc.findings[0]
    return together(f"{first.field}:", first.message, f"[{first.code}]")
