"""The mouth of a hook: the narrowest passage between the wire's cut end and the rest.

Looked at along y, across the loop's plane, as a long pin meets it: the body is solid there.
Taken from stations a quarter of the wire diameter apart: true to about 0.01 d.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.fit.seat import EndFrame, Side
from springgeo.spring.geometry import Geometry


@dataclass(frozen=True)
class Mouth:
    """The way in and out of a hook, mm.

    ``width``: what may pass the narrowest place; ``lift``: how far a part must move from its
    seat toward the body before it can pass under the cut end; ``label``: what lies opposite.
    """

    width: float
    lift: float
    label: str


def mouth(geometry: Geometry, frame: EndFrame, side: Side) -> Mouth:
    """Return the mouth of an end's hook."""
    d, path = geometry.diameter, geometry.path
    s = _near(geometry, side)
    s = s[np.argsort(np.abs(s - frame.s), kind="stable")]
    outer = s[s < frame.s] if side == "a" else s[s > frame.s]
    inner = s[s > frame.s + d] if side == "a" else s[s < frame.s - d]
    p, q = frame.local(path.point(outer)), frame.local(path.point(inner))
    along = path.tangent(outer) @ frame.axes
    # the wire's outline in the loop's plane: both flanks and the middle of each flat section
    flank = np.column_stack([-along[:, 2], along[:, 0]]) * (d / 2)
    outline = np.stack([p[:, ::2] - flank, p[:, ::2], p[:, ::2] + flank], axis=1)
    # nearer to the apex than the loop's widest place, what fits the loop is through
    top = float(p[:, 2].max())
    sill = min(frame.inside, top / 2 if math.isinf(frame.inside) else top)
    beside = q[:, 2] >= sill
    if beside.any():
        inner, q = inner[beside], q[beside]
    gap2 = (outline[:, :, None, 0] - q[:, 0]) ** 2 + (outline[:, :, None, 1] - q[:, 2]) ** 2
    nearest = gap2.min(axis=1)
    least = nearest.min(axis=1)
    # from the cut end inward (``outer`` runs outward from the apex) to the first narrowest place
    i = len(least) - 1
    while i > 0 and least[i - 1] < least[i] and p[i - 1, 2] >= sill:
        i -= 1
    opposite = inner[int(np.argmin(nearest[i]))]
    label = path.pieces[int(path.find(np.array([opposite]))[0])].label
    lift = float((p[:, 2] + np.abs(flank[:, 1])).max())
    return Mouth(max(0.0, float(np.sqrt(least[i])) - d / 2), max(0.0, lift), label)


def _near(geometry: Geometry, side: Side) -> Array:
    """Return arc lengths on the end's own wire and its first one and a quarter coils."""
    d = geometry.diameter
    shape = geometry.a if side == "a" else geometry.b
    span = 2.5 * np.pi * geometry.radius + sum(p.segment.length for p in shape.pieces)
    length = min(geometry.path.length, span)
    s: Array = np.linspace(0.0, length, int(4 * length / d) + 2)
    return s if side == "a" else geometry.path.length - s
