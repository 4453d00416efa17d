"""Where the wire stops: from the opening asked for to the angle past the apex.

Opening (the drawing dimension m of EN 13906-2 Annex A, from memory): the clear distance, along
the axis, from the cut end of the wire to the body's end face. The cut is a disc across the
wire, so its lowest point lies (d/2)|cos φ| below its centre, φ being the angle past the apex.
"""

from __future__ import annotations

import math

import numpy as np

from springgeo.curve import Arc, Line, Piece
from springgeo.errors import refused
from springgeo.text import quantity as q
from springgeo.text.shown import said

# the least opening: the cut end must not rest on the body
LEAST = 0.1
# the least angle past the apex that still holds a pin
HOLD = math.radians(45)
# the most a full loop may close
CLOSED = math.radians(165)


def opening_at(phi: float, height: float, loop_radius: float, wire_diameter: float) -> float:
    """Return the opening, mm, of a loop centred ``height`` mm above the coil's centreline."""
    c = math.cos(phi)
    return height + loop_radius * c - wire_diameter / 2 * abs(c) - wire_diameter / 2


def angle_for(
    opening: float, height: float, loop_radius: float, wire_diameter: float, most: float = CLOSED
) -> float:
    """Return φ, rad, that leaves ``opening`` mm; raises SpecError outside what can be reached."""
    low = max(opening_at(most, height, loop_radius, wire_diameter), LEAST * wire_diameter)
    high = opening_at(HOLD, height, loop_radius, wire_diameter)
    check(opening, low, high)
    rest = opening + wire_diameter / 2 - height
    reach = loop_radius - wire_diameter / 2 if rest > 0 else loop_radius + wire_diameter / 2
    return math.acos(max(-1.0, min(1.0, rest / reach)))


def half_turn(
    opening: float | None, height: float, loop_radius: float, wire_diameter: float
) -> tuple[float, float]:
    """Return (φ, tail): at most a quarter turn past the apex, then a straight tail, mm.

    Without an ``opening`` the wire stops a quarter turn past the apex.
    """
    natural = opening_at(math.pi / 2, height, loop_radius, wire_diameter)
    if opening is None:
        opening = natural
    check(opening, LEAST * wire_diameter, opening_at(HOLD, height, loop_radius, wire_diameter))
    if opening <= natural:
        return math.pi / 2, natural - opening
    return angle_for(opening, height, loop_radius, wire_diameter), 0.0


def whole_turn(
    opening: float | None, height: float, loop_radius: float, wire_diameter: float
) -> tuple[float, float]:
    """Return (φ, 0): closed to ``opening`` mm, or to half a wire diameter or as far as it goes."""
    if opening is None:
        opening = max(0.5 * wire_diameter, opening_at(CLOSED, height, loop_radius, wire_diameter))
    return angle_for(opening, height, loop_radius, wire_diameter), 0.0


def check(opening: float, low: float, high: float) -> None:
    """Raise SpecError unless ``opening`` mm lies in what the loop can give."""
    slack = 1e-9 * high
    if opening < low - slack:
        raise refused(
            "opening-too-small",
            "opening",
            said(
                "{value} is below {limit}, the least this loop can be closed to clear of the body; "
                "enlarge it, or shorten hook_length",
                value=q.length(opening, 4),
                limit=q.least(low),
            ),
        )
    if opening > high + slack:
        raise refused(
            "opening-too-large",
            "opening",
            said(
                "{value} is above {limit}, the most at which the hook still reaches 45 deg past its"
                " apex; reduce it, or lengthen hook_length",
                value=q.length(opening, 4),
                limit=q.most(high),
            ),
        )


def straight_on(loop: Arc, tail: float, wire_diameter: float) -> list[Piece]:
    """Return a straight tail of ``tail`` mm that goes on from the end of an arc, or nothing."""
    if tail <= 1e-9 * wire_diameter:
        return []
    end = np.array([loop.length])
    point, direction = loop.point(end)[0], loop.tangent(end)[0]
    return [Piece(Line.between(point, point + tail * direction), "tail", "straight")]
