"""What the extended hook and the extended eye share: a long leg beside the axis, a small loop."""

from __future__ import annotations

import math
from collections.abc import Callable

from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle
from springgeo.ends.shared import limits, tip
from springgeo.ends.shared.crossing_loop import bend_radius, crossing, loop_and_rise, loop_over
from springgeo.ends.shared.guarantee import hook_ranges
from springgeo.ends.shared.parameters import RisingHook
from springgeo.ends.shared.written_out import usual

SLOPE = math.radians(6)


class Extended(RisingHook):
    """Lengths in mm; radii are those of the wire's centreline.

    ``bend_radius`` r2 next to the coil (2 d, at most 0.4 R), ``loop_radius`` r1 (0.5 R, at least
    1.5 d), ``rise_radius`` of the bend up into the leg (as r1), ``hook_length`` from the body's
    end face to the inside of the loop (2.5 D).
    """


def style(
    name: str, title: str, summary: str, past: Callable[[Extended, BodyEnd], float], sketch: str
) -> EndStyle:
    """Return the style of a long leg whose loop goes ``past`` rad beyond its apex."""
    return EndStyle(
        name=name,
        title=title,
        summary=summary,
        sketch=sketch,
        parameters=Extended,
        shape=lambda p, end: _shape(p, end, past(p, end)),
        ranges=RANGES,
        usual=usual(name),
    )


def _shape(p: Extended, end: BodyEnd, past: float) -> EndShape:
    d, r = end.wire_diameter, end.coil_radius
    r2 = bend_radius(p.bend_radius, end)
    r1, rise = loop_and_rise(p.loop_radius, p.rise_radius, (0.5, 1.0), end)
    length = 5 * r if p.hook_length is None else p.hook_length
    height = limits.hook_length(length, end.coil_radius) + d - r1
    foot = crossing(end, r2, rise, r1, SLOPE)
    opening = tip.opening_at(past, height, r1, d)
    return loop_over(end, foot, r1, r2, height, past, 0.0, opening)


RANGES = hook_ranges(5, bend=0.4, loop=(0.4, 0.8), hook=(3.2, 10.0))
