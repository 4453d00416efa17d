"""All rules of a job again, of the spring that was built up: what it bears, and what it misses."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from springgeo.message import Message
from springgeo.results.fatigue import Fatigue
from springgeo.sizing.job.job import Job
from springgeo.sizing.job.need import Line
from springgeo.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.shown import said, word
from springgeo.trade.practice import practice

PLACES = {
    "body": "body_shear",
    "hook_bending": "hook_bending",
    "hook_torsion": "hook_torsion",
}
# the rule of each margin; fatigue has one for each place, which the least stands for
MARGIN_RULES = {name: f"margin_{name}" for name in PLACES} | {"fatigue": "fatigue_body"}
# what rounding and interpolation may take from a margin, from a room, and from a load
ROUNDING, KEPT, _LOAD = 2e-3, 1e-5, 5e-3
# of the preferred range of initial stress, what a spring may lie beside it
BESIDE = 0.02


def margins_of(job: Job, s: Summary) -> dict[str, float]:
    """Return the margins by name of the job's least ones, by the ways that count."""
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


def asked_again(rule: str) -> bool:
    """Return whether a rule of the search is asked of the spring itself."""
    return rule.startswith(("margin", "fatigue", "tension_low", "tension_high")) or rule in _ROOM


class Miss(NamedTuple):
    """What a built spring misses: the rule, if it is one, in words, and by what share."""

    rule: str | None
    text: str
    short: float


def misses_of(
    job: Job, line: Line, s: Summary, loads: tuple[float, float], margins: dict[str, float]
) -> tuple[Miss, ...]:
    """Return what a spring misses of its job; nothing where it does it."""
    return (*_margins(job, margins), *_tension(job, s), *_loads(line, loads), *_room(job, s))


def _margins(job: Job, margins: dict[str, float]) -> Iterator[Miss]:
    for place, value in margins.items():
        least = getattr(job.least, place)
        if value < least * (1 - ROUNDING):
            text = f"margin {place} {value:.3f} is below {least:g}"
            yield Miss(MARGIN_RULES[place], text, 1 - value / least)
    if job.service.duty != "static" and "fatigue" not in margins:
        yield Miss(None, "no fatigue data are published for this wire", 1.0)


def _tension(job: Job, s: Summary) -> Iterator[Miss]:
    tension = s.initial_tension
    low, high = tension.preferred_low, tension.preferred_high or 0.0
    if job.initial_tension != "preferred" or low is None:
        return
    room = BESIDE * (high - low)
    if not low - room <= tension.stress <= high + room:
        text = said(
            "initial stress {stress} is outside {low} to {high}",
            stress=q.stress(tension.stress),
            low=q.stress(low, unit=False),
            high=q.stress(high),
        )
        short = max(low - tension.stress, tension.stress - high) / (0.5 * (low + high))
        yield Miss("tension_low" if tension.stress < low else "tension_high", text, short)


def meets(line: Line, loads: tuple[float, float]) -> bool:
    """Return whether loads at the lengths of a line are those of the line."""
    return not any(_loads(line, loads))


def _loads(line: Line, loads: tuple[float, float]) -> Iterator[Miss]:
    for load, wanted in zip(loads, (line.F_1, line.F_2), strict=True):
        if abs(load - wanted) > _LOAD * wanted:
            text = said(
                "load {load} is not the {wanted} asked for",
                load=q.force(load),
                wanted=q.force(wanted),
            )
            yield Miss(None, text, abs(load / wanted - 1))


class Built(NamedTuple):
    """What a rule compares of a spring that was built up: in mm, Hz or as a factor."""

    words: Message
    kind: str
    value: float
    limit: float
    at_most: bool

    @property
    def short(self) -> float:
        """By what share of the limit the spring misses it; below zero where it does not."""
        return (self.value / self.limit - 1.0) * (1.0 if self.at_most else -1.0)


def built(job: Job, s: Summary) -> dict[str, Built]:
    """Return what a spring takes of the job's room, and how fast it swings, by name of the rule."""
    g, room = s.geometry, job.envelope
    forcing = job.service.forcing_frequency
    every = (
        ("outer_diameter", word("outside diameter"), "length", g.outer_diameter, True),
        ("hook_a", word("hook of the first end"), "length", g.hook_length_first, True),
        ("hook_b", word("hook of the second end"), "length", g.hook_length_second, True),
        ("free_length", word("free length"), "length", g.free_length, True),
        ("rod_diameter", word("inside diameter"), "length", g.inner_diameter, False),
    )
    found = {
        _RULES.get(name, name): Built(words, kind, value, limit, at_most)
        for name, words, kind, value, at_most in every
        if (limit := getattr(room, name)) is not None
    }
    if forcing is not None:
        ratio = practice("frequency_ratio")
        words = said("the natural frequency over {ratio}", ratio=f"{ratio:g}")
        swings = s.dynamics.natural_frequency_both_held / ratio
        found["frequency"] = Built(words, "frequency", swings, forcing, False)
    return found


_RULES = {"hook_a": "hook_room_a", "hook_b": "hook_room_b"}
_ROOM = "outer_diameter", "hook_room_a", "hook_room_b", "free_length", "rod_diameter", "frequency"


def _room(job: Job, s: Summary) -> Iterator[Miss]:
    for name, one in built(job, s).items():
        if one.short > (ROUNDING if name == "frequency" else KEPT):
            value, limit = (q.Quantity(one.kind, x, 6) for x in (one.value, one.limit))
            text = (
                said("{what} {value} is above {limit}", what=one.words, value=value, limit=limit)
                if one.at_most
                else said(
                    "{what} {value} is below {limit}", what=one.words, value=value, limit=limit
                )
            )
            yield Miss(name, text, one.short)
    for check in s.checks:
        if not check.ok:
            yield Miss(None, f"check '{check.name}' failed", 1.0)
