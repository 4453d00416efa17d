"""What is told to be enough is enough: ``python -m tests.stability.ways_out --count 200``.

A job that a spring is known to do is tightened until nothing fits: less room, more margin or life
than any wire has, a higher frequency, an index too high or too low. Each limit that ``size`` says
would have to give alone, and those that would have to give together, is moved to what the text
says, in the units it says it in, and no further; then something must fit. So it must where the
text says which share of the loads' tolerance the design should use. Ways out that are no number of
the job (coils, initial tension) are not tried.
"""

from __future__ import annotations

import copy
import re
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.sizing import Job, job_of, size
from springgeo.sizing.answer.why_not import Reason
from springgeo.sizing.search.rules import rules_of
from springgeo.text.shown import Shown

from .asked import written
from .asked.job import as_asked, choice, need, objectives, room
from .asked.spring import Known, known
from .trials import another, main
from .wild import Random

# the fields of a job that a number stands in
_MOVED = "envelope.", "least.", "choice.index", "service.temperature", "service.forcing_frequency"
_TOLD = re.compile(r"would have to be (?:raised|lowered) to (-?[\d.]+) ?(deg[CF]|mm|in|Hz)?")
_USED = re.compile(r"could use (\d+) % of the tolerance")
_WIDER = re.compile(r"were ([\d.]+) times as wide")


def trial(seed: int, folder: Path) -> bool:
    """Tighten one job, and give way."""
    rng = np.random.default_rng([12, seed])
    found = known(rng)
    if found is None:
        return False
    asked = tightened(rng, found)
    said = as_asked(asked)
    another()
    job = job_of(said)
    result = size(job, 1)
    if result.winners:
        return False
    alone = [[r] for r in result.why_not if r.alone]
    together = [r for r in result.why_not if not r.alone]
    tried = False
    for ways in (*alone, together):
        given = _given(job, said, ways)
        if given is None:
            continue
        another()
        looser = job_of(given)
        more = size(looser, 1)
        why = [*more.turned_away, *(r.text for r in more.why_not)]
        texts = [Shown(job.units).text(r.text) for r in ways]
        assert more.winners, f"{texts} is not enough: {why}; {said}, {given}"
        try:
            written.require(more.winners[0], looser, folder, found.points)
        except AssertionError as exc:
            raise AssertionError(f"{exc}; {more.winners[0].specification}, {given}") from exc
        tried = True
    return tried


def tightened(rng: Random, k: Known) -> dict[str, Any]:
    """Return a job that asks of a spring more than it has."""
    g = k.summary.geometry
    asked: dict[str, Any] = {
        **need(rng, k.points),
        "choice": choice(rng, k),
        "objectives": objectives(rng, k),
        "method": k.method,
        "initial_tension": k.initial_tension,
        "service": {x: v for x, v in k.data["service"].items() if x != "loads"},
        "envelope": room(rng, k) if rng.random() < 0.3 else {},
        "least": {name: max(min(v, 1.2), 0.4) for name, v in k.margins.items()},
    }
    if k.data.get("units") == "inch":
        asked["units"] = "inch"
    for kind in set(rng.choice(list(_TIGHTER), int(rng.integers(1, 3)))):
        field, name, value = _TIGHTER[str(kind)]
        if field == "choice":
            low, high = value(k, g)
            asked["choice"]["index"] = [low, high]
        else:
            asked[field][name] = value(k, g)
    return asked


_TIGHTER: dict[str, tuple[str, str, Any]] = {
    "outside": ("envelope", "outer_diameter", lambda _k, g: 0.6 * g.outer_diameter),
    "rod": ("envelope", "rod_diameter", lambda _k, g: 1.8 * g.inner_diameter),
    "free": ("envelope", "free_length", lambda _k, g: 0.8 * g.free_length),
    "hook_a": ("envelope", "hook_a", lambda _k, g: 0.3 * g.hook_length_first),
    "hook_b": ("envelope", "hook_b", lambda _k, g: 0.3 * g.hook_length_second),
    "body": ("least", "body", lambda k, _g: 2.5 * k.margins["body"]),
    "bending": ("least", "hook_bending", lambda k, _g: 3 * k.margins.get("hook_bending", 1.0)),
    "torsion": ("least", "hook_torsion", lambda k, _g: 3 * k.margins.get("hook_torsion", 1.0)),
    "life": ("least", "fatigue", lambda k, _g: 2.5 * k.margins.get("fatigue", 1.0)),
    "low": ("choice", "index", lambda _k, g: (4.0, max(0.7 * g.index, 4.2))),
    "high": ("choice", "index", lambda _k, g: (min(1.4 * g.index, 15.0), 16.0)),
    "hot": ("service", "temperature", lambda _k, _g: 450.0),
    "swings": (
        "service",
        "forcing_frequency",
        lambda k, _g: k.summary.dynamics.natural_frequency_both_held / 7,
    ),
}


def _given(job: Job, said: dict[str, Any], ways: list[Reason]) -> dict[str, Any] | None:
    """Return the job with its numbers as told; None where a way is no number of the job."""
    rules = {rule.name: rule for rule in rules_of(job)}
    given = copy.deepcopy(said)
    for way in ways:
        text = Shown(job.units).text(way.text)
        if way.rule == "use_tolerance":
            _use(given, text)
            continue
        told = _TOLD.search(text)
        rule = rules[way.rule]
        if told is None or not rule.field.startswith(_MOVED):
            return None
        value: Any = f"{told[1]} {told[2]}" if told[2] else float(told[1])
        section, name = rule.field.split(".")
        if name == "index":
            low, high = job.choice.index
            value = [low, value] if rule.raise_to else [value, high]
        given[section][name] = value
    return given if ways else None


def _use(given: dict[str, Any], text: str) -> None:
    """Let the design use the tolerance as told, widened as told."""
    wider = _WIDER.search(text)
    if wider is None:
        told = _USED.search(text)
        assert told, text
        given["use_tolerance"] = float(told[1]) / 100
        return
    given["use_tolerance"] = 1
    for form in ("installed", "lever"):
        if form in given:
            given[form]["tolerance"] = min(0.05 * float(wider[1]), 0.25)
    for point in given.get("points", ()):
        point["tolerance"] = min(0.05 * float(wider[1]), 0.25)


if __name__ == "__main__":
    main("ways_out", trial)
