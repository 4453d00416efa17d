"""What an end style brings, in wire diameters, as functions of the index alone.

A style's shape scales with the wire: at one index every length is proportional to d. So
the style itself is asked once at a few indices and its answer is used for every wire.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from springgeo.curve import pitch_for_distance
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.errors import SpecError
from springgeo.mechanics.value import Array
from springgeo.sizing.job.end_option import EndOption
from springgeo.specification.body import COIL_CLEARANCE

# indices a style is asked at first; an interval is halved, down to the least width, while the
# style's answer in its middle is off the straight line between its ends
FIRST = (3.0, 4.0, 6.0, 9.0, 13.0, 18.0, 25.0)
LEAST_WIDTH = 1 / 64
OFF = 1e-4

Ask = tuple[float, ...]


class Hook(NamedTuple):
    """One end at given indices, lengths over d: hook length, r1 and r2 of the centreline.

    r1 and r2 are infinite for an end without hook: a loop that large has no stress of curvature,
    and ``holds`` is 0. ``coils`` that the end winds beside the body's, in body coils, with their
    ``wire``; ``narrow`` is the diameter of the coil under the hook over the body's. NaN throughout
    where the style cannot be made at this index.
    """

    length: Array
    r_1: Array
    r_2: Array
    coils: Array
    wire: Array
    narrow: Array
    holds: Array

    @property
    def turns(self) -> Array:
        """Hooks of the body's size that give as much: one on a coil of radius r gives (r/R)³."""
        return np.asarray(self.holds * self.narrow**3)


def hook_at(end: EndOption, C: Array) -> Hook:
    """Return an end at indices ``C`` (m,)."""
    table = _table(end)
    length, r_1, r_2, coils, wire, narrow = (np.interp(C, table[0], x) for x in table[1:])
    holds = float(registry.get(end.style).holds_load)
    return Hook(length, r_1, r_2, coils, wire, narrow, np.full_like(C, holds))


@cache
def pulls_aside(end: EndOption) -> bool:
    """Return whether an end pulls beside its body's axis."""
    return any(shape.offset > 0 for C in FIRST if (shape := _shape(end, C)) is not None)


def pitch_at(C: Array) -> Array:
    """Return the pitch of the wound-solid body as built, over d, at indices ``C`` (m,)."""
    knots, pitch = _pitches()
    return np.interp(C, knots, pitch)


@cache
def _pitches() -> tuple[Array, Array]:
    knots = np.linspace(3.0, 25.0, 177)
    return knots, np.array([pitch_for_distance(c / 2, 1 + COIL_CLEARANCE) for c in knots])


@cache
def _table(end: EndOption) -> Array:
    """Return the index and what ``_asked`` says there, as rows."""
    known = {C: _asked(end, C) for C in FIRST}
    open_ = list(pairwise(FIRST))
    while open_:
        low, high = open_.pop()
        if high - low <= LEAST_WIDTH:
            continue
        middle = (low + high) / 2
        known[middle] = _asked(end, middle)
        if not _straight(known[low], known[middle], known[high]):
            open_ += [(low, middle), (middle, high)]
    return np.array([(C, *known[C]) for C in sorted(known)]).T


def _straight(low: Ask, middle: Ask, high: Ask) -> bool:
    a, b, c = (np.nan_to_num(x, nan=-1.0, posinf=0.0) for x in (low, middle, high))
    return bool(np.all(np.abs(b - (a + c) / 2) < OFF))


def _shape(end: EndOption, C: float) -> EndShape | None:
    """Return an end on a wire of diameter 1 at an index; None where it cannot be made."""
    style = registry.get(end.style)
    try:
        pitch = pitch_for_distance(C / 2, 1 + COIL_CLEARANCE)
        return style.shape(style.parameters(**end.parameters(1.0, C)), BodyEnd(1.0, C / 2, pitch))
    except SpecError:
        return None


def _asked(end: EndOption, C: float) -> Ask:
    shape = _shape(end, C)
    if shape is None:
        return (np.nan,) * 6
    r_1, r_2 = (np.inf if r is None else r for r in (shape.loop_radius, shape.bend_radius))
    narrow = 1.0 if shape.hook_radius is None else 2 * shape.hook_radius / C
    return shape.hook_length, r_1, r_2, shape.active_coils, shape.active_wire, narrow
