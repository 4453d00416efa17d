"""From which index a style guarantees its ranges, and which."""

from __future__ import annotations

from collections.abc import Callable

from springgeo.ends.protocol import BodyEnd, Range

Span = tuple[float, float]


def from_index(least: float, ranges: Callable[[float, float], Range]) -> Callable[[BodyEnd], Range]:
    """Return the ranges of a body end: none below an index, else those of d and R, mm."""

    def guaranteed(end: BodyEnd) -> Range:
        d, r = end.wire_diameter, end.coil_radius
        return {} if 2 * r < least * d else ranges(d, r)

    return guaranteed


def hook_ranges(
    index: float, *, bend: float, loop: Span, hook: Span | None = None, least: float = 1.5
) -> Callable[[BodyEnd], Range]:
    """Return the ranges of a hook's parameters from an index on, given in multiples of R.

    ``bend`` is the greatest r2, from a wire diameter up; ``loop`` are bounds of r1, which is never
    below ``least`` wire diameters; ``hook`` are those of the hook length, if that may be given.
    """

    def ranges(d: float, r: float) -> Range:
        low, high = (max(least * d, share * r) for share in loop)
        found = {"bend_radius": (d, max(d, bend * r)), "loop_radius": (low, high)}
        return found if hook is None else {**found, "hook_length": (hook[0] * r, hook[1] * r)}

    return from_index(index, ranges)
