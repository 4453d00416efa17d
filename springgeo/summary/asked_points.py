"""What working points a specification asks for: by load, by length, by its spectrum."""

from __future__ import annotations

from collections.abc import Callable

from springgeo.specification.service import Service
from springgeo.summary import origin

# a working point: its load, N, and its length inside hooks, mm, where that is what is given
Given = tuple[float, float | None]


def ranges(
    service: Service, load_at: Callable[[float], float]
) -> tuple[tuple[Given, Given, float], ...]:
    """Return the ends and the count of every range of the spectrum."""
    found = []
    for part in service.spectrum:
        ends: list[Given] = [(origin.load(x), None) for x in part.loads or ()]
        ends += [_at(x, load_at) for x in part.lengths or ()]
        found.append((ends[0], ends[1], part.count))
    return tuple(found)


def working(
    service: Service,
    spectrum: tuple[tuple[Given, Given, float], ...],
    load_at: Callable[[float], float],
) -> list[Given]:
    """Return the working points by rising load: those asked for, and the ends of the spectrum."""
    asked: list[Given] = [(origin.load(x), None) for x in service.loads]
    asked += [_at(x, load_at) for x in service.lengths]
    if every := [end for low, high, _ in spectrum for end in (low, high)]:
        for end in min(every, key=_rising), max(every, key=_rising):
            if not any(_rising(end) == _rising(x) or 0 < end[0] == x[0] for x in asked):
                asked.append(end)
    return sorted(asked, key=_rising)


def given_lengths(service: Service) -> frozenset[float]:
    """Return the lengths that are given, of working points and of the spectrum, mm."""
    spectrum = (x for part in service.spectrum for x in part.lengths or ())
    return frozenset((*service.lengths, *spectrum))


def _at(length: float, load_at: Callable[[float], float]) -> Given:
    told = origin.given(length, "L", "length", "mm", "service.lengths")
    return load_at(told), told


def _rising(asked: Given) -> tuple[float, float]:
    # several lengths without load are in the order in which a spring aside comes to them
    return asked[0], asked[1] or 0.0
