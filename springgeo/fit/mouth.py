"""The mouth of a hook: the narrowest passage between the wire's cut end and the rest.

Looked at along y, across the loop's plane, as a long pin meets it: the body is solid there.
Taken from stations a quarter of the wire diameter apart: true to about 0.01 d.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.fit.seat import EndFrame, end_frame
from springgeo.specification.end_names import Side
from springgeo.spring.geometry import Geometry


@dataclass(frozen=True)
class Mouth:
    """The way in and out of a hook, mm.

    ``width``: what may pass the narrowest place, 0 where the ring is closed; ``lift``: how far a
    part must move from its seat toward the body before it can pass under the cut end; ``label``:
    what lies opposite, at the arc length ``opposite``.
    """

    width: float
    lift: float
    label: str
    opposite: float


def mouth(geometry: Geometry, frame: EndFrame, side: Side) -> Mouth:
    """Return the mouth of an end's hook."""
    d, path = geometry.wire_diameter, geometry.path
    s = _near(geometry, side)
    place, tangent = path.traced(s, "point", "tangent")
    point = frame.to_local(place)
    after = (frame.s - s) * (1.0 if side == "first" else -1.0)  # from the apex toward the cut end
    out, far = np.flatnonzero(after > 0)[::-1], np.flatnonzero(after < -d)
    if _closes(point[out[::-1]], frame.inside):
        label = path.pieces[int(path.find(np.array([frame.s]))[0])].label
        return Mouth(0.0, 0.0, label, frame.s)
    p, q = point[out], point[far][:, ::2]
    flank, lift = _flanks(tangent[out] @ frame.axes, p, d)
    # nearer to the apex than the loop's widest place, what fits the loop is through
    top = float(p[:, 2].max())
    sill = min(frame.inside, top / 2 if math.isinf(frame.inside) else top)
    beside = np.flatnonzero(q[:, 1] >= sill)
    if len(beside):
        far, q = far[beside], q[beside]
    # from the cut end inward (``out`` runs outward from the apex) to the first narrowest place
    below = np.flatnonzero(p[:, 2] < sill)
    first = min(int(below[-1]) + 1, len(p) - 1) if len(below) else 0
    nearest = _nearest(p[first:, ::2], flank[first:], q)
    least = nearest.min(axis=1).tolist()
    i = len(least) - 1
    while i > 0 and least[i - 1] < least[i]:
        i -= 1
    opposite = float(s[far[int(np.argmin(nearest[i]))]])
    label = path.pieces[int(path.find(np.array([opposite]))[0])].label
    return Mouth(max(0.0, math.sqrt(least[i]) - d / 2), max(0.0, lift), label, opposite)


def hook_mouth(geometry: Geometry, side: Side, *, holds_load: bool) -> Mouth | None:
    """Return the mouth of an end, None where it has no hook of wire to hang in."""
    frame = end_frame(geometry, side) if holds_load else None
    return None if frame is None else mouth(geometry, frame, side)


def _closes(after: Array, inside: float) -> bool:
    """Return whether the wire ``(n, 3)`` past the apex goes round the loop once more.

    Seen along a pin such a ring is closed; the pin goes in endwise, or from turn to turn.
    """
    if math.isinf(inside) or len(after) < 2:
        return False
    angle = np.unwrap(np.arctan2(after[:, 2] - inside, after[:, 0]))
    return bool(abs(angle[-1] - angle[0]) >= 2 * math.pi)


def _flanks(along: Array, p: Array, wire_diameter: float) -> tuple[Array, float]:
    """Return half the flat sections across the loop's plane ``(n, 2)``, and how high they reach.

    ``along`` and ``p`` are tangents and points ``(n, 3)`` in the end's frame.
    """
    flank = np.empty((len(p), 2))
    flank[:, 0], flank[:, 1] = -along[:, 2], along[:, 0]
    flank *= wire_diameter / 2
    return flank, float((p[:, 2] + np.abs(flank[:, 1])).max())


def _nearest(p: Array, flank: Array, q: Array) -> Array:
    """Return the squared distance ``(n, m)`` of points ``(m, 2)`` from n flat sections.

    A section is seen by both of its flanks and its middle.
    """
    found = None
    for edge in (p - flank, p, p + flank):
        gap2 = (edge[:, :1] - q[:, 0]) ** 2 + (edge[:, 1:] - q[:, 1]) ** 2
        found = gap2 if found is None else np.minimum(found, gap2)
    assert found is not None
    return found


def _near(geometry: Geometry, side: Side) -> Array:
    """Return arc lengths on the end's own wire and its first one and a quarter coils."""
    d = geometry.wire_diameter
    shape = geometry.first if side == "first" else geometry.second
    length = min(geometry.path.length, 2.5 * np.pi * geometry.coil_radius + shape.length)
    s: Array = np.linspace(0.0, length, int(4 * length / d) + 2)
    return s if side == "first" else geometry.path.length - s
