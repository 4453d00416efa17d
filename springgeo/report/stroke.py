"""The states that the report shows: from free to the end of the stroke, load by load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from springgeo.computed import ComputedSpring
from springgeo.errors import SpecError
from springgeo.state import State
from springgeo.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.shown import said, word

# shapes between which the view moves along straight lines
STATES = 9
# buttons beside the slider; a specification with more loads gets its first and last
MOST_STOPS = 6
# how often a stroke that cannot be drawn is shortened by a quarter
_TRIES = 12


@dataclass(frozen=True)
class Stop:
    """A named place on the stroke: N, mm inside hooks."""

    name: str
    load: float
    length: float


@dataclass(frozen=True)
class Stroke:
    """The stroke as shown: ``stops`` are free, the working points, over-travel.

    ``states``: the free one, then about evenly from the initial tension to the longest length, the
    stops among them; one where nothing moves. ``load``, N, is that at its end; ``remark`` says why
    it ends there, if that is not the highest load; or nothing.
    """

    states: tuple[State, ...]
    stops: tuple[Stop, ...]
    load: float
    remark: str


def stroke_of(spring: ComputedSpring) -> Stroke:
    """Return the stroke: to the longest working point and over-travel, as far as can be drawn.

    Without working points it ends where the first stress reaches its allowable.
    """
    s = spring.summary()
    line = spring.load_curve
    points = s.along_the_wire.points
    stops = [Stop(word("free"), 0.0, spring.free_length)]
    stops += [Stop(f"F{i}", p.load, p.length) for i, p in enumerate(points, start=1)]
    remark: str = ""
    mating, beyond = spring.spec.mating, 0.0
    if not points:
        load = limit_load(s)
        stops.append(Stop(word("allowable"), load, line.length(load)))
        remark = word(
            "The specification names no working loads: the stroke ends where the first stress "
            "reaches its allowable."
        )
    elif mating is not None and mating.over_travel > 0:
        beyond = stops[-1].length + mating.over_travel
    stops = _few(stops)
    states = _states(spring, [p.length for p in stops], beyond)
    last = states[-1]
    if beyond and last.length >= beyond * (1 - 1e-9):
        stops.append(Stop(word("over-travel"), last.load, last.length))
    elif beyond:
        remark = said(
            "The view ends at {longest}: pulled further, the wire would nearly be drawn straight.",
            longest=q.length(last.length, 4),
        )
        stops.append(Stop(word("end of view"), last.load, last.length))
    return Stroke(states, tuple(stops), stops[-1].load, remark)


def limit_load(s: Summary) -> float:
    """Return the load, N, at which the first stress along the wire reaches its allowable.

    Never less than twice the initial tension, so that there is a stroke to show.
    """
    loads = (place.allowable.load for place in s.pull.along_the_wire.values())
    return max(2 * s.initial_tension.force, min(loads))


def _states(spring: ComputedSpring, lengths: Sequence[float], beyond: float) -> tuple[State, ...]:
    """Return states from the free one to the longest length, all lengths among them.

    And on to ``beyond`` mm, or as far as the wire can be drawn.
    """
    free = spring.free_length
    known = max(lengths) - free
    reach = max(known, beyond - free)
    last = None
    for _ in range(_TRIES):
        if reach <= 1e-9 * free:
            break
        try:
            last = spring.at(length=free + reach)
            break
        except SpecError:
            reach = max(0.75 * reach, known)
    first = spring.at(length=free)
    if last is None:
        return (first,)
    # up to the initial tension the hooks move alone, and not as beyond it
    knee = spring.load_curve.length(spring.load_curve.initial_tension)
    start = knee if free < knee < last.length else free + (last.length - free) / (STATES - 1)
    # the coils part one after the other on the way there
    parting = [(free + start) / 2, start]
    even = np.linspace(start, last.length, STATES - 2)[1:-1].tolist()
    apart = (last.length - free) / (4 * STATES)
    named = [x for x in lengths if free < x < last.length * (1 - 1e-9)]
    parting = [x for x in parting if all(abs(x - y) > apart / 8 for y in named)]
    between = named + parting + [x for x in even if all(abs(x - y) > apart for y in named)]
    return (first, *spring.states(lengths=between), last)


def _few(stops: list[Stop]) -> list[Stop]:
    return stops if len(stops) <= MOST_STOPS else [*stops[:2], *stops[-2:]]
