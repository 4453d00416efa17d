"""The states that the report shows: from free to the end of the stroke, load by load.

Of a spring that is not pulled straight where it is mounted they are those as mounted, but for the
free one, which is as drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
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
# mm: a rise of the load over less length is as good as upright
_STIFF = 1e-9


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
    it ends there, if that is not the highest load; or nothing. ``as_mounted``: they are those of
    the spring as mounted.
    """

    states: tuple[State, ...]
    stops: tuple[Stop, ...]
    load: float
    remark: str
    as_mounted: bool = False

    def curve(self, s: Summary) -> list[list[float]]:
        """Return points of load over length for the view: N, mm, N/mm, coils parted.

        The summary's load curve; as mounted the states themselves.
        """
        if not self.as_mounted:
            return [[p.load, p.length, p.rate, p.parted] for p in s.load_line.curve]
        coils = 0.0 if s.contact is None else s.contact.coils
        parted = [coils * float(x.equilibrium.contact.parted.mean()) for x in self.states]
        return [
            [x.load, x.length, rate, n]
            for x, rate, n in zip(self.states, self._rates(), parted, strict=True)
        ]

    def _rates(self) -> list[float]:
        """Return the slope at each state, N/mm: between its neighbours."""
        last = len(self.states) - 1
        found = []
        for i in range(len(self.states)):
            a, b = self.states[max(i - 1, 0)], self.states[min(i + 1, last)]
            found.append((b.load - a.load) / max(b.length - a.length, _STIFF))
        return found


def stroke_of(spring: ComputedSpring) -> Stroke:
    """Return the stroke: to the longest working point and over-travel, as far as can be drawn.

    Without working points it ends where the first stress reaches its allowable.
    """
    s = spring.summary()
    points = s.mounted or s.along_the_wire.points
    stops = [Stop(word("free"), 0.0, spring.free_length)]
    # as mounted those that bear nothing are left out: they come first
    first = 1 + len(s.points) - len(points)
    stops += [Stop(f"F{i}", p.load, p.length) for i, p in enumerate(points, start=first)]
    remark: str = ""
    mating, beyond = spring.spec.mating, 0.0
    if not s.points:
        load = limit_load(s)
        stops.append(Stop(word("allowable"), load, spring.mounted(loads=[load])[0].length))
        remark = word(
            "The specification names no working loads: the stroke ends where the first stress "
            "reaches its allowable."
        )
    elif mating is not None and mating.over_travel > 0:
        beyond = max(p.length for p in stops) + mating.over_travel
    stops = _few(stops)
    if spring.is_mounted:
        states = _mounted(spring, stops, beyond)
    else:
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
    # of given lengths the longest need not bear most as mounted
    load = max(p.load for p in stops)
    return Stroke(states, tuple(stops), load, remark, as_mounted=spring.is_mounted)


def limit_load(s: Summary) -> float:
    """Return the load, N, at which the first stress along the wire reaches its allowable.

    Never less than twice the initial tension, so that there is a stroke to show.
    """
    loads = [place.allowable.load for place in s.pull.along_the_wire.values()]
    if s.pull.mounted is not None:
        loads.append(s.pull.mounted.load)
    return max(2 * s.initial_tension.force, min(loads))


def _states(spring: ComputedSpring, lengths: Sequence[float], beyond: float) -> tuple[State, ...]:
    """Return states from the free one to the longest length, all lengths among them.

    And on to ``beyond`` mm, or as far as the wire can be drawn.
    """
    free = spring.free_length
    first = spring.at(length=free)
    last = _last(lambda x: spring.at(length=x), free, max(lengths), beyond)
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


def _mounted(spring: ComputedSpring, stops: Sequence[Stop], beyond: float) -> tuple[State, ...]:
    """Return the free state, and those as mounted up to the highest load, all stops among them.

    And on to ``beyond`` mm, or as far as the wire can be drawn. Before the free one stand those at
    which the pins push the spring.
    """
    free, top = spring.at(length=spring.free_length), max(p.load for p in stops)
    low = spring.mounted(lengths=[p.length for p in stops if p.load < 0])
    low = tuple(sorted(low, key=lambda x: x.load))
    if not top > 0:
        return (*low, free)
    (last,) = spring.mounted(loads=[top])
    if beyond:
        reached = _last(
            lambda x: spring.mounted(lengths=[x])[0], spring.free_length, last.length, beyond
        )
        last = last if reached is None or reached.load <= top else reached
    tension = spring.load_curve.initial_tension
    start = tension if 0 < tension < last.load else last.load / (STATES - 1)
    even = np.linspace(start, last.load, STATES - 2)[1:-1].tolist()
    named = [p.load for p in stops if 0 < p.load < last.load]
    apart = last.load / (4 * STATES)
    # the coils part one after the other up to the initial tension
    wanted = [x for x in (start / 2, start) if all(abs(x - y) > apart / 8 for y in named)]
    wanted += [x for x in even if all(abs(x - y) > apart for y in named)]
    return (*low, free, *_between(spring, named, wanted), last)


def _between(spring: ComputedSpring, named: list[float], wanted: list[float]) -> tuple[State, ...]:
    """Return states as mounted by rising load, N, without those wanted that are not reached."""
    try:
        return spring.mounted(loads=[*named, *wanted])
    except SpecError:
        found = list(spring.mounted(loads=named))
    for load in wanted:
        with suppress(SpecError):
            found += spring.mounted(loads=[load])
    return tuple(sorted(found, key=lambda x: x.load))


def _last(at: Callable[[float], State], free: float, known: float, beyond: float) -> State | None:
    """Return the state at the longest length, mm: ``beyond``, or as far as can be drawn.

    Never less than ``known``; None where that is the free length.
    """
    known -= free
    reach = max(known, beyond - free)
    for _ in range(_TRIES):
        if reach <= 1e-9 * free:
            break
        try:
            return at(free + reach)
        except SpecError:
            reach = max(0.75 * reach, known)
    return None


def _few(stops: list[Stop]) -> list[Stop]:
    return stops if len(stops) <= MOST_STOPS else [*stops[:2], *stops[-2:]]
