"""Why nothing fits: which rules bind, and by how much each would have to give.

Every amount is enough; a little less may do, as the index is looked at in steps of 1 %.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from springgeo.sizing.job.job import Job
from springgeo.sizing.search.by_tolerance import way_by_tolerance
from springgeo.sizing.search.candidate import Candidate, candidate
from springgeo.sizing.search.constraints import Rule
from springgeo.sizing.search.place import Place
from springgeo.sizing.search.rules import rules_of
from springgeo.sizing.search.search import Found


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
    short = -min(c.slack[rule.name], 0.0)
    ends = " and ".join(dict.fromkeys(map(str, c.ends)))
    what = f"{c.material} {c.d:.4g} mm wire, index {c.index:.3g}, {ends}"
    return Reason(
        rule.name, f"{rule.field}: {_words(found.job, rule, c, short)} ({what})", short, alone
    )


def _words(job: Job, rule: Rule, c: Candidate, short: float) -> str:
    if rule.name == "temperature":
        t, limit = job.service.temperature, job.choice.known_materials[c.material].temperature_limit
        hot = limit is not None and limit < t
        change, bound = ("lowered", t - 100 * short) if hot else ("raised", t + 100 * short)
        return (
            f"{rule.words}: {t:.4g} degC would have to be {change} to {bound:.4g} degC, the "
            f"{'most' if hot else 'least'} that this wire bears"
        )
    if rule.name == "cost_known":
        return f"{rule.words}: it is not; leave cost out of the objectives"
    if rule.name == "tension_possible":
        return (
            f"{rule.words}: this one is hardened after coiling and holds none, the line asks "
            f"for {c.initial_tension:.4g} N; allow other materials"
        )
    if rule.name.startswith("tension") or rule.name == "coils_open":
        return _tension(rule, c)
    limit = None if rule.limit is None else rule.limit(job)
    if limit is None:
        return f"{rule.words}: not met"
    if rule.raise_to:
        change, new = "raised", limit * (1 + short)
    else:
        change, new = "lowered", limit * (1 - short)
    return (
        f"{rule.words}: the limit {limit:.4g}{rule.unit} would have to be {change} to "
        f"{new:.4g}{rule.unit} ({100 * short:.2g} %)"
    )


def _tension(rule: Rule, c: Candidate) -> str:
    force = f"{c.initial_tension:.4g} N ({c.initial_stress:.4g} MPa)"
    wanted = f"{c.line.k:.4g} N/mm through {c.line.F_1:.4g} N at {c.line.L_1:.5g} mm"
    if c.initial_tension < 0:
        return (
            f"{rule.words}: the line {wanted} asks for a negative initial tension, {force}, "
            f"at the free length {c.free_length:.5g} mm; coils can only press together: "
            f"longer hooks, or a free length {-c.initial_tension / c.line.k:.4g} mm longer, "
            "bring it to zero"
        )
    if rule.name == "coils_open":
        return (
            f"{rule.words}: the free length {c.free_length:.5g} mm with initial tension "
            f"{force} leaves no travel before {c.line.L_1:.5g} mm; ask for a longer first "
            "length, or a stiffer rate"
        )
    way = "high: ask for a longer first length, or lower the first load"
    if rule.name == "tension_low":
        way = "low: ask for a shorter first length, or raise the first load"
    return f"{rule.words}: the line {wanted} asks for {force}, too {way}"
