"""From a job to springs: search, correct the handbook along the wire, search again, re-check."""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.errors import SpecError
from springgeo.sizing.answer.rank import ranked
from springgeo.sizing.answer.why_not import Reason, reasons
from springgeo.sizing.answer.winner import Winner, factors, why_unmade, winner
from springgeo.sizing.job.job import Job
from springgeo.sizing.search.candidate import candidate
from springgeo.sizing.search.closed_form import Factors
from springgeo.sizing.search.search import Found, search

# candidates re-checked for each design asked for, before giving up
TRIES = 4
# searches with factors anew while every design is turned away
ROUNDS = 3


@dataclass(frozen=True)
class Result:
    """The winners, best first; what was turned away at the re-check; and, with none, why not."""

    found: Found
    winners: tuple[Winner, ...]
    turned_away: tuple[str, ...]
    why_not: tuple[Reason, ...]


def size(job: Job, top: int = 5) -> Result:
    """Return the ``top`` best springs of a job, each one built up and checked again.

    The handbook's stress and rate at the hooks differ from those along the wire by an amount that
    hangs on the end style most. So the best of each end pair is analysed along the wire once, and
    the search is made again with its factors.

    Raises
    ------
    SpecError
        No wire or end style is left to choose from.
    """
    found = search(job)
    if job.method == "handbook" or not found.places:
        return _checked(found, top)
    known: dict[int, Factors] = {}
    result = _checked(found, 0)
    for _ in range(ROUNDS):
        known |= _factors(found)
        found = search(job, known, found.wires)
        result = _checked(found, top)
        if result.winners or not found.places:
            break
    return result


def _checked(found: Found, top: int) -> Result:
    """Return the first ``top`` designs of a front that pass the re-check."""
    job = found.job
    winners: list[Winner] = []
    away: list[str] = []
    for place, score in ranked(found):
        if len(winners) == top or len(winners) + len(away) == top * TRIES:
            break
        c = candidate(found, place)
        what = f"{c.material} {c.d:.4g} mm, {' / '.join(dict.fromkeys(map(str, c.ends)))}"
        try:
            made = winner(job, c, score, f"{job.name}, choice {len(winners) + 1}")
        except SpecError as exc:
            away.append(f"{what}: {why_unmade(exc)}")
            continue
        if made.misses:
            away.append(f"{what}: {'; '.join(made.misses)}")
        else:
            winners.append(made)
    return Result(found, tuple(winners), tuple(away), () if found.places else reasons(found))


def _factors(found: Found) -> dict[int, Factors]:
    """Return the factors of each end pair, from its best design on the front."""
    known: dict[int, Factors] = {}
    for place, _ in ranked(found):
        if place.ends in known:
            continue
        try:
            known[place.ends] = factors(candidate(found, place), found.job)
        except SpecError:
            known[place.ends] = Factors()
    return known
