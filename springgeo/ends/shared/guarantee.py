"""From which index a style guarantees its ranges."""

from __future__ import annotations

from collections.abc import Callable

from springgeo.ends.protocol import BodyEnd, Range

Ranges = Callable[[BodyEnd], Range]


def from_index(least: float) -> Callable[[Ranges], Ranges]:
    """Return a decorator: below this index a body admits no guaranteed range."""

    def guard(ranges: Ranges) -> Ranges:
        def guarded(end: BodyEnd) -> Range:
            return {} if 2 * end.coil_radius < least * end.wire_diameter else ranges(end)

        guarded.__doc__ = ranges.__doc__
        return guarded

    return guard
