r"""Coned ends: the last coils fall in diameter and hold the head of a swivel.

```
          |  |          shank: free to turn in the last coil
         (|  |)
        (======)        the head bears on the cone from inside
       (========)
     ==============
```
The wire forms no hook, so none is bent or twisted, and the coils of the cone carry no share of
the deflection. A cone of 2 to 4 coils with a shank a wire diameter clear of the last coil is
common practice; no standard gives the head, so that its strength and the load at which it pulls
through the cone stay to be proven by test.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from springgeo.curve import Path, pitch_for_distance
from springgeo.curve.kinds.eased_coil import EasedCoil
from springgeo.ends.fitted.held_coils import CLEARANCE, HeldCoils, closed_pitch, coil_count
from springgeo.ends.protocol import BodyEnd, EndParameters, EndShape, Range
from springgeo.ends.shared import limits
from springgeo.errors import refused
from springgeo.fittings import Part, Turned
from springgeo.specification.quantity import Length
from springgeo.text import quantity as q
from springgeo.text.shown import said

COILS, FEWEST, MOST = 3.0, 2.0, 6.0
# from the head and the shank to the wire, in wire diameters
PLAY = 0.05
# where on the cone the head lies, from its wide end (0) to its narrow one (1)
HEAD = 0.3, 0.9
# from the last coil to the end of the shank, in wire diameters, unless asked for
BEYOND = 0.75
NARROWEST = 3.2


class Coned(EndParameters):
    """Lengths in mm.

    ``coils`` in the cone (3), ``end_diameter`` mean diameter of the last of them (half the
    body's, at least an index of 3.2), ``shank_diameter`` of the swivel (a wire diameter less
    than the last coil's inside), ``shank_length`` from the last coil on (0.75 d).
    """

    coils: float | None = None
    end_diameter: Length | None = None
    shank_diameter: Length | None = None
    shank_length: Length | None = None


@dataclass(frozen=True)
class Cone:
    """The cone's coils and the swivel up to the end of its shank: mm above P of the rigid coils."""

    coil: EasedCoil
    shank: float
    top: float
    beyond: float
    profile: tuple[tuple[float, float], ...]


Sizes = tuple[tuple[str, float], ...]
# the fitting beyond the shank: (its shape, load point above the shank's end, reach beyond it,
# its own sizes)
Beyond = tuple[Path | None, float, float, Sizes]


def cone(p: Coned, end: BodyEnd) -> Cone:
    """Return the cone on a body end, or raise SpecError."""
    d = end.wire_diameter
    count = coil_count(p.coils, COILS, FEWEST, MOST)
    widest = 1.7 * end.coil_radius
    if widest < NARROWEST * d:
        raise refused(
            "cone-does-not-fit",
            "end_diameter",
            said(
                "the last coil of a cone needs a diameter of {value} (index {narrowest}) or more, "
                "but at most {other} (0.85 of the body's) is possible; raise the index or choose"
                " another style",
                **q.lengths(4, value=NARROWEST * d, other=widest),
                narrowest=q.number(NARROWEST, 6),
            ),
        )
    last = limits.between(
        "end_diameter",
        min(max(NARROWEST * d, end.coil_radius), widest)
        if p.end_diameter is None
        else p.end_diameter,
        NARROWEST * d,
        widest,
        f"from an index of {NARROWEST:g} to 0.85 of the body's mean diameter",
        "choose a diameter within it",
    )
    shank = limits.between(
        "shank_diameter",
        last - 2 * d if p.shank_diameter is None else p.shank_diameter,
        0.5 * d,
        last - _round_shank(d),
        "from half a wire diameter to what turns freely in the last coil",
        "choose a diameter within it",
    )
    coil = EasedCoil(
        radius=end.coil_radius,
        end_radius=last / 2,
        pitch=closed_pitch(end),
        end_pitch=pitch_for_distance(last / 2, d * (1 + CLEARANCE)),
        turns=count,
    )
    beyond = limits.between(
        "shank_length",
        BEYOND * d if p.shank_length is None else p.shank_length,
        0.0,
        20 * end.coil_radius,
        "from nothing to ten coil diameters",
        "choose a length within it",
    )
    top = coil.rise + d / 2 + max(beyond, PLAY * d)
    head = _head(coil, d, shank / 2)
    if head[0][0] < coil.end_radius - 0.4 * d:
        raise refused(
            "head-slips-out",
            "end_diameter",
            said(
                "with {value} the widest head inside the cone has a radius of {other} and is not "
                "held by the last coil; reduce it",
                **q.lengths(4, value=last, other=head[0][0]),
            ),
        )
    return Cone(coil, shank, top, beyond, (*head, (shank / 2, top)))


def widest_shank(coil: EasedCoil, diameter: float) -> float:
    """Return the widest shank that turns freely in the last coil, mm."""
    return 2 * coil.end_radius - _round_shank(diameter)


def _round_shank(diameter: float) -> float:
    return diameter * (1 + 2 * PLAY)


def _head(coil: EasedCoil, d: float, shank: float) -> tuple[tuple[float, float], ...]:
    """Return the head's profile: the widest frustum of the cone's slope that clears the wire."""
    point = coil.point(np.linspace(0.0, coil.length, 1000))
    rho, z = np.hypot(point[:, 0], point[:, 1]), point[:, 2]
    # a coil is cut by the half-plane of the profile a little aslant: ellipse, not circle
    slope = (coil.radius - coil.end_radius) / (coil.turns * math.pi * coil.end_radius)
    off = d / 2 * math.hypot(1.0, slope) + PLAY * d
    low, high = (float(np.interp(v * coil.turns, _turns(point), z)) for v in HEAD)
    at = np.linspace(low, high, 60)
    below = off**2 - (at[:, None] - z) ** 2
    free = np.where(below > 0, rho - np.sqrt(np.maximum(below, 0.0)), np.inf).min(axis=1)
    fall = (free[-1] - free[0]) / (high - low)
    wide = float((free - fall * (at - low)).min())
    narrow = wide + float(fall) * (high - low)
    if narrow < shank:
        return (wide, low), (shank, low + (shank - wide) / float(fall))
    return (wide, low), (narrow, high), (shank, high)


def _turns(point: np.ndarray) -> np.ndarray:
    turns: np.ndarray = np.unwrap(np.arctan2(point[:, 1], point[:, 0])) / (2 * math.pi)
    return turns


def swivel(
    p: Coned,
    end: BodyEnd,
    beyond: Callable[[Any, Cone, BodyEnd], Beyond],
    own: str | None = None,
) -> EndShape:
    """Return a coned end whose swivel goes on as ``beyond`` says.

    ``own`` is the parameter that gives the inside diameter of its loop.
    """
    c, part, load, reach = _made(p, end.wire_diameter, end.coil_radius, beyond)
    held = HeldCoils.of(end)
    more = {} if own is None else {own: dict(part.sizes)["inside diameter"]}
    return EndShape(
        pieces=held.pieces(c.coil),
        hook_length=held.lift + c.top + load - end.face,
        reach=reach,
        parts=(part.moved(*held.place),),
        grip_s=0.0,
        gripped_coils=held.settle.turns + c.coil.turns,
        built={
            "coils": c.coil.turns,
            "end_diameter": 2 * c.coil.end_radius,
            "shank_diameter": c.shank,
            "shank_length": c.beyond,
            **more,
        },
    )


@lru_cache(maxsize=64)
def _made(
    p: Coned, diameter: float, radius: float, beyond: Callable[[Any, Cone, BodyEnd], Beyond]
) -> tuple[Cone, Part, float, float]:
    """Return cone, swivel, load point and reach: rigid, so the same in every state of a spring."""
    end = BodyEnd(diameter, radius, diameter)
    c = cone(p, end)
    rod, load, reach, own = beyond(p, c, end)
    sizes: Sizes = (
        ("last coil, mean diameter", 2 * c.coil.end_radius),
        ("shank diameter", c.shank),
        ("head diameter", 2 * c.profile[0][0]),
        *own,
    )
    return c, Part("swivel", Turned(c.profile, rod), sizes=sizes), load, reach


def ranges(end: BodyEnd) -> Range:
    """Return the guaranteed range of each parameter, mm, the swivel's own left out."""
    d, r = end.wire_diameter, end.coil_radius
    low, high = max(NARROWEST * d, r), 1.4 * r
    if low > high:
        return {}
    return {
        "coils": (FEWEST, 5.0),
        "end_diameter": (low, high),
        "shank_diameter": (0.5 * d, low - 1.5 * d),
        "shank_length": (0.1 * d, 4 * r),
    }
