"""From which index a style guarantees its ranges."""

from __future__ import annotations

from collections.abc import Callable

from springgeo.ends.protocol import BodyEnd, Range

# ranges of a wire diameter and a coil radius, mm
Ranges = Callable[[float, float], Range]


def from_index(least: float) -> Callable[[Ranges], Callable[[BodyEnd], Range]]:
    """Return a decorator: below this index a body admits no guaranteed range."""

    def guard(ranges: Ranges) -> Callable[[BodyEnd], Range]:
        def guarded(end: BodyEnd) -> Range:
            d, r = end.wire_diameter, end.coil_radius
            return {} if 2 * r < least * d else ranges(d, r)

        guarded.__doc__ = ranges.__doc__
        return guarded

    return guard
