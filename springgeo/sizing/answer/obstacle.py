"""A candidate that nearly does a job, built up: what it truly misses, by how much."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from springgeo.errors import SpecError
from springgeo.sizing.answer.borne import borne
from springgeo.sizing.answer.recheck import MARGIN_RULES, asked_again, built
from springgeo.sizing.answer.winner import Winner, winner
from springgeo.sizing.job.job import Job
from springgeo.sizing.search.candidate import Candidate, candidate
from springgeo.sizing.search.place import Place
from springgeo.sizing.search.search import Found


class Obstacle(NamedTuple):
    """A place of the search, the candidate there, and the rules that it misses by what share.

    ``made`` is the spring, None where there is none; ``whole`` says whether rules are all that it
    misses: not, where it does not come to its loads.
    """

    place: Place
    candidate: Candidate
    made: Winner | None
    missed: Mapping[str, float]
    whole: bool

    @property
    def does_it(self) -> bool:
        """Whether the spring does the job, though the search thought it missed by a little."""
        if self.made is None or self.made.misses:
            return False
        return all(s >= 0 or asked_again(name) for name, s in self.candidate.slack.items())


def obstacle(found: Found, place: Place) -> Obstacle:
    """Return what the candidate at a place misses, once built up.

    Under its loads a coil bears a little more than small loads tell, and gives more: of each rule
    the greater shortfall counts, of the search or of the spring.
    """
    c = candidate(found, place)
    missed = {name: -s for name, s in c.slack.items() if s < 0}
    if found.job.method == "handbook":
        return Obstacle(place, c, None, missed, True)
    job = borne(found.job, c)
    try:
        made = winner(job, c, 0.0, "nearest")
    except SpecError:
        return Obstacle(place, c, None, missed, True)
    for miss in made.misses:
        if miss.rule is not None and not _told(missed, miss.rule):
            missed[miss.rule] = miss.short
    for name, short in _own(job, made).items():
        if name in missed:
            missed[name] = max(missed[name], short)
    whole = all(miss.rule is not None for miss in made.misses)
    return Obstacle(place, c, made, missed, whole)


def _told(missed: Mapping[str, float], rule: str) -> bool:
    """Return whether a rule, or fatigue at any place, is missed already."""
    kind = "fatigue" if rule.startswith("fatigue") else rule
    return any(name.startswith(kind) for name in missed)


def _own(job: Job, made: Winner) -> dict[str, float]:
    """Return by what share a spring falls short of each rule that it is asked for, by its name."""
    found = {name: one.short for name, one in built(job, made.summary).items()}
    for name, value in made.margins.items():
        rule, least = MARGIN_RULES[name], getattr(job.least, name)
        rules = [f"fatigue_{x}" for x in MARGIN_RULES] if name == "fatigue" else [rule]
        found |= dict.fromkeys(rules, 1.0 - value / least)
    return found
