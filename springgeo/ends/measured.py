"""What an end is, read off its wire: for a style that only draws."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from springgeo.curve import Path, Piece, measured_radius
from springgeo.curve.root import bisect
from springgeo.ends.protocol import BodyEnd, EndShape

# the highest place is looked for among so many, then found to rounding
_LOOKS = 2001
# of the coil's radius: nearer the axis than this is on it
_ON_AXIS = 1e-9


def measured_shape(pieces: Iterable[Piece], end: BodyEnd) -> EndShape:
    """Return the shape of a hook drawn in one wire from P outward, every length measured on it.

    The load acts where the wire is furthest out, on the inside of the loop. r1 and r2 are the
    radii of the first piece of role ``loop`` and ``bend``; the opening is that of the cut disc.

    Raises
    ------
    ValueError
        No piece, or the wire is furthest out at its very end: that is no hook.
    """
    pieces = tuple(pieces)
    path = Path(pieces)
    s = _apex(path)
    x, y, z = path.point(np.array([s]))[0].tolist()
    t = path.tangent(np.array([s]))[0]
    last = np.array([path.length])
    slope = float(path.tangent(last)[0, 2])
    cut = float(path.point(last)[0, 2]) - end.wire_diameter / 2 * math.sqrt(max(0.0, 1 - slope**2))
    offset = math.hypot(x, y)
    return EndShape(
        pieces=pieces,
        hook_length=z - end.wire_diameter / 2 - end.face,
        azimuth=math.atan2(-float(t[1]), -float(t[0])),
        contact_s=s,
        loop_radius=_radius(pieces, "loop"),
        bend_radius=_radius(pieces, "bend"),
        opening=cut - end.face,
        offset=0.0 if offset < _ON_AXIS * end.coil_radius else offset,
    )


def _apex(path: Path) -> float:
    s = np.linspace(0.0, path.length, _LOOKS)
    i = int(np.argmax(path.point(s)[:, 2]))
    if i in (0, len(s) - 1):
        raise ValueError("the wire is furthest out at one of its ends: it makes no hook")

    def rising(at: float) -> float:
        return float(path.tangent(np.array([at]))[0, 2])

    return bisect(rising, float(s[i - 1]), float(s[i + 1]))


def _radius(pieces: tuple[Piece, ...], role: str) -> float | None:
    first = next((p for p in pieces if p.role == role), None)
    return None if first is None else measured_radius(first)
