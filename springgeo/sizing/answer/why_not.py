"""Why nothing fits: which rules bind, and by how much each would have to give.

Every amount is enough; a little less may do, as the index is looked at in steps of 1 %. Margins are
those of the spring built up, as a choice's are, and so are lengths and frequency.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from springgeo.errors import SpecError
from springgeo.message import Message
from springgeo.sizing.answer.recheck import built
from springgeo.sizing.answer.winner import winner
from springgeo.sizing.job.job import Job
from springgeo.sizing.search.by_tolerance import way_by_tolerance
from springgeo.sizing.search.candidate import Candidate, candidate
from springgeo.sizing.search.constraints import Rule
from springgeo.sizing.search.place import Place
from springgeo.sizing.search.rules import rules_of
from springgeo.sizing.search.search import Found
from springgeo.text import quantity as q
from springgeo.text.quantity import Quantity
from springgeo.text.shown import said

# rules of what a spring must bear, and the share by which a limit is told too far: it is rounded,
# and what ends bear runs straight between the indices that were asked
_MARGINS, _ROUNDED = ("margin", "fatigue"), 2e-3


class Reason(NamedTuple):
    """One rule: its name, what must give in words, the share it misses by, and whether alone.

    ``alone``: giving way here is enough; otherwise it is one of the rules that the nearest
    candidate misses together.
    """

    rule: str
    text: str
    shortfall: float
    alone: bool


def reasons(found: Found) -> tuple[Reason, ...]:
    """Return the ways out, cheapest first: single rules, then the nearest candidate's misses."""
    rules = {rule.name: rule for rule in rules_of(found.job)}
    seen = found.obstacles
    single = sorted(seen.relax.items(), key=lambda item: (item[1][0], item[0]))
    # an end that cannot be bent leaves nothing else to judge: no way out on its own
    out = [
        _reason(found, rules[name], place, True)
        for name, (_, place) in single
        if name != "end_fits"
    ]
    # rules missed together are worth telling where that is the lesser sacrifice
    least = min((r.shortfall for r in out), default=np.inf)
    if seen.nearest is not None and seen.nearest[0] < least * (1 - 1e-9):
        c = candidate(found, seen.nearest[1])
        missed = sorted((s, name) for name, s in c.slack.items() if s < 0)
        out += [_reason(found, rules[name], seen.nearest[1], False) for _, name in missed]
    if (way := way_by_tolerance(found)) is not None:
        out.insert(0, Reason("use_tolerance", way.text, way.moved, True))
    return tuple(out)


def _reason(found: Found, rule: Rule, place: Place, alone: bool) -> Reason:
    c = candidate(found, place)
    short = max(-min(c.slack[rule.name], 0.0), _short_when_built(found.job, rule, c))
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


def _short_when_built(job: Job, rule: Rule, c: Candidate) -> float:
    """Return by what share of its limit the spring itself falls short of a rule.

    Under its loads a coil bears a little more than small loads tell, and gives more. Zero where
    the rule is none that a spring built up is asked, or there is no such spring.
    """
    kind, _, place = rule.name.partition("_")
    limit = None if rule.limit is None else rule.limit(job)
    if limit is None or job.method == "handbook":
        return 0.0
    try:
        made = winner(job, c, 0.0, "nearest")
    except SpecError:
        return 0.0
    if kind in _MARGINS:
        return 1.0 - made.margins.get(place if kind == "margin" else kind, limit) / limit
    one = built(job, made.summary).get(rule.name)
    return 0.0 if one is None else one.short


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
