"""Why nothing fits: which rules bind, and by how much each would have to give.

Every amount is enough; a little less may do, as the index is looked at in steps of 1 %. Margins are
those of the spring built up, as a choice's are, and so are lengths and frequency.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from springgeo.message import Message
from springgeo.sizing.answer.obstacle import Obstacle, obstacle
from springgeo.sizing.job.job import Job
from springgeo.sizing.search.by_tolerance import way_by_tolerance
from springgeo.sizing.search.candidate import Candidate
from springgeo.sizing.search.constraints import Rule
from springgeo.sizing.search.rules import rules_of
from springgeo.sizing.search.search import Found
from springgeo.text import quantity as q
from springgeo.text.quantity import Quantity
from springgeo.text.shown import said

# the share by which a limit is told too far: it is rounded, and what ends bear runs straight
# between the indices that were asked
_ROUNDED = 2e-3


class Reason(NamedTuple):
    """One rule: its name, what must give in words, the share it misses by, and whether alone.

    ``alone``: giving way here is enough; otherwise it is one of the rules that the nearest
    candidate misses together.
    """

    rule: str
    text: str
    shortfall: float
    alone: bool


def obstacles(found: Found) -> tuple[Obstacle, ...]:
    """Return what came nearest where nothing passes, built up: those of one rule, then the rest."""
    seen = found.obstacles
    # an end that cannot be bent leaves nothing else to judge: no way out on its own
    single = sorted((short, n, at) for n, (short, at) in seen.relax.items() if n != "end_fits")
    places = [at for _, _, at in single]
    if seen.nearest is not None:
        places.append(seen.nearest[1])
    return tuple(obstacle(found, place) for place in dict.fromkeys(places))


def reasons(found: Found, near: Sequence[Obstacle]) -> tuple[Reason, ...]:
    """Return the ways out: single rules, cheapest first, then what the nearest misses together."""
    rules = {rule.name: rule for rule in rules_of(found.job)}
    true = [x for x in near if x.whole and x.missed] or [x for x in near if x.missed]
    single = [x for x in true if len(x.missed) == 1]
    out = [_reason(found, rules[name], x, True) for x in single for name in x.missed]
    # rules missed together are worth telling where that is the lesser sacrifice
    least = min((r.shortfall for r in out), default=np.inf)
    several = [x for x in true if len(x.missed) > 1]
    nearest = min(several, key=lambda x: sum(x.missed.values()), default=None)
    if nearest is not None and sum(nearest.missed.values()) < least * (1 - 1e-9):
        missed = sorted((-short, name) for name, short in nearest.missed.items())
        out += [_reason(found, rules[name], nearest, False) for _, name in missed]
    if (way := way_by_tolerance(found)) is not None:
        out.insert(0, Reason("use_tolerance", way.text, way.moved, True))
    return tuple(out)


def _reason(found: Found, rule: Rule, near: Obstacle, alone: bool) -> Reason:
    c, short = near.candidate, near.missed[rule.name]
    ends = " and ".join(dict.fromkeys(map(str, c.ends)))
    what = said(
        "{material} {d} wire, index {index}, {ends}",
        material=c.material,
        d=q.length(c.d, 4),
        index=q.number(c.index, 3),
        ends=ends,
    )
    text = said(
        "{field}: {reason} ({what})",
        field=rule.field,
        reason=_words(found.job, rule, c, short),
        what=what,
    )
    return Reason(rule.name, text, short, alone)


def _words(job: Job, rule: Rule, c: Candidate, short: float) -> str:
    if rule.name == "temperature":
        t, limit = job.service.temperature, job.choice.known_materials[c.material].temperature_limit
        hot = limit is not None and limit < t
        change, bound = ("lowered", t - 100 * short) if hot else ("raised", t + 100 * short)
        return said(
            "{words}: {t} would have to be {change} to {bound}, the {least} that this wire bears",
            words=rule.words,
            t=q.temperature(t),
            change=change,
            bound=q.temperature(bound),
            least="most" if hot else "least",
        )
    if rule.name == "cost_known":
        return f"{rule.words}: it is not; leave cost out of the objectives"
    if rule.name == "tension_possible":
        return said(
            "{words}: this one is hardened after coiling and holds none, the line asks for "
            "{initial_tension}; allow other materials",
            words=rule.words,
            initial_tension=q.force(c.initial_tension),
        )
    if rule.name.startswith("tension") or rule.name == "coils_open":
        return _tension(rule, c)
    limit = None if rule.limit is None else rule.limit(job)
    if limit is None:
        return f"{rule.words}: not met"
    if rule.raise_to:
        change, new = "raised", limit * (1 + short) * (1 + _ROUNDED)
    else:
        change, new = "lowered", limit * (1 - short) * (1 - _ROUNDED)
    return said(
        "{words}: the limit {limit} would have to be {change} to {new} ({short})",
        words=rule.words,
        limit=_limit(rule.unit, limit),
        change=change,
        new=_limit(rule.unit, new),
        short=q.percent(100 * short, 2),
    )


def _tension(rule: Rule, c: Candidate) -> str:
    force = said(
        "{initial_tension} ({initial_stress})",
        initial_tension=q.force(c.initial_tension),
        initial_stress=q.stress(c.initial_stress),
    )
    wanted = said(
        "{rate} through {load} at {length}",
        rate=q.rate(c.line.k),
        load=q.force(c.line.F_1),
        length=q.length(c.line.L_1, 5),
    )
    if c.initial_tension < 0:
        return said(
            "{words}: the line {wanted} asks for a negative initial tension, {force}, at "
            "the free length {free_length}; coils can only press together: longer hooks, or"
            " a free length {rate} longer, bring it to zero",
            words=rule.words,
            wanted=wanted,
            force=force,
            free_length=q.length(c.free_length, 5),
            rate=q.length(-c.initial_tension / c.line.k, 4),
        )
    if rule.name == "coils_open":
        return said(
            "{words}: the free length {free_length} with initial tension {force} leaves coils in "
            "contact at {length}; ask for a longer first length, or a stiffer rate",
            words=rule.words,
            **q.lengths(5, free_length=c.free_length, length=c.line.L_1),
            force=force,
        )
    way = "high: ask for a longer first length, or lower the first load"
    if rule.name == "tension_low":
        way = "low: ask for a shorter first length, or raise the first load"
    return said(
        "{words}: the line {wanted} asks for {force}, too {way}",
        words=rule.words,
        wanted=wanted,
        force=force,
        way=way,
    )


_KINDS = {" mm": "length", " N": "force", " MPa": "stress", " %": "percent", " Hz": "frequency"}


def _limit(unit: str, value: float) -> Quantity | Message:
    """Return a limit in its unit; one that no kind of quantity has stands as it is."""
    if not unit or unit in _KINDS:
        return q.Quantity(_KINDS.get(unit, "number"), value, 4)
    return said("{value}{unit}", value=q.number(value), unit=unit)
