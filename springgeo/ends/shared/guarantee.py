"""From which index a style guarantees its ranges."""

from __future__ import annotations

from collections.abc import Callable

from springgeo.ends.protocol import BodyEnd, Range


def from_index(least: float, ranges: Callable[[float, float], Range]) -> Callable[[BodyEnd], Range]:
    """Return the ranges of a body end: none below an index, else those of d and R, mm."""

    def guaranteed(end: BodyEnd) -> Range:
        d, r = end.wire_diameter, end.coil_radius
        return {} if 2 * r < least * d else ranges(d, r)

    return guaranteed
