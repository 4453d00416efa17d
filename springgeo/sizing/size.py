"""From a job to springs: search, correct the handbook along the wire, search again, re-check."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from os import PathLike
from typing import NamedTuple, Self

import numpy as np

from springgeo.errors import SpecError
from springgeo.sizing.answer.borne import borne
from springgeo.sizing.answer.corrected import factors
from springgeo.sizing.answer.rank import alike, ranked
from springgeo.sizing.answer.recheck import BESIDE, built, meets
from springgeo.sizing.answer.why_not import Reason, obstacles, reasons
from springgeo.sizing.answer.winner import Winner, why_unmade, winner
from springgeo.sizing.job.job import Job, job_of, read_job
from springgeo.sizing.search.candidate import candidate
from springgeo.sizing.search.factors import ByIndex, Factors
from springgeo.sizing.search.hooks import pulls_aside
from springgeo.sizing.search.place import Place
from springgeo.sizing.search.rules import PARTS
from springgeo.sizing.search.search import Found, search
from springgeo.sizing.search.tension_rules import CURVE_ROOM, OPEN_SHARE
from springgeo.text import quantity as q
from springgeo.text.shown import said, together
from springgeo.trade.limits import limits

# candidates re-checked for each design asked for, before giving up, and for so many pairs of ends
# more; after so many of one pair, none of which held, others come first
TRIES, OTHERS = 4, 2
# searches with factors anew while every design is turned away
ROUNDS = 3
# a sum of shortfalls that another fraction of a coil may make good
NEARLY = 0.4
# indices at which an end pair is asked along the wire, and how many of its best designs say where
LADDER = tuple(np.geomspace(*limits()["index"], 17).tolist())
BEST = 3

_PLACES = "body", "hook_bending", "hook_torsion"
# a spring that was too long, or swings too slowly, is taken to have so many more coils, one that
# was wound too tightly to ask so much more: the next must not be so again
_BY_COILS, _BEYOND = ("free_length", "frequency"), 1e-3

Known = dict[int, dict[float, Factors]]


@dataclass(frozen=True)
class Result:
    """The winners, best first; what was turned away at the re-check; and, with none, why not.

    ``alike`` counts designs left out because they hardly differ from a winner before them.
    """

    found: Found
    winners: tuple[Winner, ...]
    turned_away: tuple[str, ...]
    why_not: tuple[Reason, ...]
    alike: int = 0


def size(job: Job | Mapping[str, object] | str | PathLike[str], top: int = 5) -> Result:
    """Return the ``top`` best springs of a job, each one built up and checked again.

    A job may be given as a mapping, as its file would hold it, or by the path of that file.

    The handbook's stress and rate at the hooks differ from those along the wire by an amount that
    hangs on end style and index. So each end pair is asked along the wire at the indices of its
    best designs, or of those that came nearest, and the search is made again with its factors;
    where nothing then fits, at every index that passed by the handbook.

    Raises
    ------
    SpecError
        It is no job, or no wire or end style is left to choose from.
    FileError
        The job's file cannot be read.
    """
    if not isinstance(job, Job):
        job = job_of(job) if isinstance(job, Mapping) else read_job(job)
    found = search(job)
    if job.method == "handbook":
        return _or_why_not(_checked(found, top)[0], top)
    known: Known = {}
    result = _rounds(found, _best(found), known, top)
    if not result.winners and (by_parts := _by_parts(result.found)) is not None:
        parted = _rounds(by_parts, by_parts.places, {}, top)
        if parted.winners:
            return parted
    return _or_why_not(result, top)


def _rounds(found: Found, best: Sequence[Place], known: Known, top: int) -> Result:
    """Return what is found once the handbook is corrected, by what the best and the next tell."""
    job = found.job
    for left in reversed(range(ROUNDS)):
        before, asked = found, _ask(found, known, best)
        found = search(found.job, _by_index(known), found.stock)
        if not found.places and _ask(before, known, before.places):
            found = search(found.job, _by_index(known), found.stock)
        result, short = _checked(found, top)
        # where nothing passes, what came nearest may be of ends and indices that nobody asked yet
        if result.winners or not left or not (_learn(known, short, job) or asked):
            break
        best = _best(found)
    return result


def _by_parts(found: Found) -> Found | None:
    """Return where to look for springs with ends at the side by fractions of a coil.

    Which fraction there is turns one end from the other, and with it how far beside the axis they
    pull. None where no such end came near; else the pair of ends that came nearest.
    """
    seen, job = found.obstacles, found.job
    near = [*seen.relax.values(), *([] if seen.nearest is None else [seen.nearest])]
    best = found.places or [place for short, place in sorted(near) if short <= NEARLY]
    aside = [place for place in best if any(map(pulls_aside, job.end_pairs[place.ends]))]
    if not aside:
        return None
    ends = aside[0].ends
    places = tuple(
        place._replace(ends=part)
        for place in dict.fromkeys(aside)
        for part in range(len(PARTS))
        if place.ends == ends
    )
    return replace(found, job=job.at_parts([ends], PARTS), places=places, factors={})


def _or_why_not(result: Result, top: int) -> Result:
    """Return a result with why nothing fits; or with what came nearest, where that does the job.

    The search is off by some thousandths, which a spring that is built up is not.
    """
    found = result.found
    if found.places:
        return result
    near = obstacles(found)
    if does := [x for x in near if x.does_it]:
        costs = np.array([[x.candidate.cost[n] for n in found.job.objectives] for x in does])
        places = tuple(x.place for x in does)
        return _checked(replace(found, places=places, costs=costs, other_costs=costs[:0]), top)[0]
    return replace(result, why_not=reasons(found, near))


def _checked(found: Found, top: int) -> tuple[Result, list[tuple[Place, Winner]]]:
    """Return the first ``top`` designs of a front that pass the re-check and differ.

    Beside them those that were built and do not pass.
    """
    job = found.job
    winners: list[Winner] = []
    taken: list[Place] = []
    away: list[str] = []
    short: list[tuple[Place, Winner]] = []
    near = 0
    failed: Counter[int] = Counter()
    held: set[int] = set()
    tries = (top + min(len(job.end_pairs) - 1, OTHERS)) * TRIES
    for place, score in _in_turn(found, failed, held):
        if len(winners) == top or len(winners) + len(away) == tries:
            break
        if any(alike(found, place, other) for other in taken):
            near += 1
            continue
        c = candidate(found, place)
        what = said(
            "{material} {d}, {ends}",
            material=c.material,
            d=q.length(c.d, 4),
            ends=" / ".join(dict.fromkeys(map(str, c.ends))),
        )
        try:
            made = winner(job, c, score, f"{job.name}, choice {len(winners) + 1}")
        except SpecError as exc:
            away.append(together(what, why_unmade(exc), by=": "))
            failed[place.ends] += 1
            continue
        if made.misses:
            away.append(together(what, together(*(m.text for m in made.misses), by="; "), by=": "))
            short.append((place, made))
            failed[place.ends] += 1
        else:
            winners.append(made)
            taken.append(place)
            held.add(place.ends)
    return Result(found, tuple(winners), tuple(away), (), near), short


class _More(NamedTuple):
    """By how much springs that fell short bear more than was told, and have more coils.

    ``above``: how far their initial stress lies above what was allowed for, as in ``Factors``.
    ``apart``: how much later the coils must be taken to part, for it not to be offered again.
    """

    body: float = 1.0
    a: float = 1.0
    b: float = 1.0
    coils: float = 1.0
    above: float = 0.0
    apart: float = 1.0

    @classmethod
    def of(cls, made: Winner, job: Job) -> Self:
        """Return what a spring that fell short says."""
        told, own = made.candidate.margins, made.margins
        body, a, b = (max(told[k] / own[k], 1.0) if k in own else 1.0 for k in _PLACES)
        asked = built(job, made.summary)
        coils = made.summary.geometry.body_coils / made.candidate.coils * (1 + _BEYOND)
        long = any(asked[name].short > 0 for name in _BY_COILS if name in asked)
        return cls(body, a, b, max(coils, 1.0) if long else 1.0, _above(made), _apart(made))

    def raised(self, at: Factors) -> Factors:
        """Return factors with so much more."""
        return at._replace(
            coils=at.coils / self.coils,
            body=at.body * self.body,
            a=at.a * self.a,
            b=at.b * self.b,
            above=np.maximum(at.above, self.above),
            apart=at.apart * self.apart,
            knee=at.knee * self.apart,
        )


def _above(made: Winner) -> float:
    """Return how far a spring's initial stress lies above what the search allowed for.

    In shares of the preferred range, where it is above that; 0 where it is not.
    """
    tension = made.summary.initial_tension
    low, high = tension.preferred_low, tension.preferred_high
    if low is None or high is None or all(m.rule != "tension_high" for m in made.misses):
        return 0.0
    more = (tension.stress - made.candidate.initial_stress) / (high - low)
    return max(more - BESIDE - CURVE_ROOM + _BEYOND, 0.0)


def _apart(made: Winner) -> float:
    """Return how much later coils must part for the search not to offer this spring again.

    A spring that does not come to its loads is in its knee at the lower one. 1 where it comes.
    """
    if meets(made.candidate.line, made.loads):
        return 1.0
    most = 1.0 - OPEN_SHARE
    share = most - made.candidate.slack["coils_open"]
    return max(most / share * (1 + _BEYOND), 1.0) if share > 0 else 1.0


def _learn(known: Known, short: Iterable[tuple[Place, Winner]], job: Job) -> bool:
    """Raise what ends bear, coils and tension to the most that springs built with them have.

    Return if any is raised. The search would offer the same designs again, a thousandth short of
    what was asked, or as much too long.
    """
    more: dict[int, _More] = {}
    for place, made in short:
        if place.ends in known:
            both = zip(more.get(place.ends, _More()), _More.of(made, job), strict=True)
            more[place.ends] = _More(*(max(x, y) for x, y in both))
    for ends, by in more.items():
        known[ends] = {knot: by.raised(at) for knot, at in known[ends].items()}
    return any(by != _More() for by in more.values())


def _in_turn(
    found: Found, failed: Mapping[int, int], held: Container[int]
) -> Iterator[tuple[Place, float]]:
    """Yield the designs in their order, but last those of ends of which ``TRIES`` did not hold.

    Ends that the search takes for better than they are must not keep others out; those of which
    one held are never put off.
    """
    later = []
    for place, score in ranked(found):
        if place.ends in held or failed.get(place.ends, 0) < TRIES:
            yield place, score
        else:
            later.append((place, score))
    yield from later


def _best(found: Found) -> list[Place]:
    """Return the best designs of each end pair; where nothing passes, those that came nearest."""
    if not found.places:
        seen = found.obstacles
        near = [*seen.relax.values(), *([] if seen.nearest is None else [seen.nearest])]
        return list(dict.fromkeys(place for _, place in near))
    count: dict[int, int] = {}
    best = []
    for place, _ in ranked(found):
        count[place.ends] = count.get(place.ends, 0) + 1
        if count[place.ends] <= BEST:
            best.append(place)
    return best


def _ask(found: Found, known: Known, places: Iterable[Place]) -> bool:
    """Add the factors at the indices beside each place to what is known; return if any is new."""
    wanted: dict[tuple[int, float], Place] = {}
    for place in places:
        above = int(np.searchsorted(LADDER, place.C))
        for knot in LADDER[max(above - 1, 0) : above + 1]:
            if knot not in known.get(place.ends, {}):
                wanted.setdefault((place.ends, knot), place)
    for (ends, knot), place in wanted.items():
        rows = known.setdefault(ends, {})
        knee = next(((x.apart, x.knee) for x in rows.values()), None)
        try:
            c = candidate(found, place)
            there = factors(c, borne(found.job, c), knot, knee, found.job.part(ends))
        except SpecError:  # it cannot be bent there: nothing to correct
            there = None
        if there is not None:
            rows[knot] = there
    return bool(wanted)


def _by_index(known: Known) -> dict[int, ByIndex]:
    return {ends: ByIndex(dict(rows)) for ends, rows in known.items() if rows}
