"""The mouth of a hook: the narrowest passage between the wire's cut end and the rest.

Looked at along y, across the loop's plane, as a long pin meets it: the body is solid there.
"""

from __future__ import annotations

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
    d = geometry.diameter
    near = _near(geometry, side, d)
    path = geometry.path
    s = near[np.argsort(np.abs(near - frame.s), kind="stable")]
    outer = s[s < frame.s] if side == "a" else s[s > frame.s]
    inner = s[s > frame.s + d] if side == "a" else s[s < frame.s - d]
    p, q = frame.local(path.point(outer)), frame.local(path.point(inner))
    gap = np.linalg.norm(p[:, None, ::2] - q[None, :, ::2], axis=2)
    least = gap.min(axis=1)
    # from the cut end inward (outer is ordered from the apex) to the first narrowest place
    i = len(least) - 1
    while i > 0 and least[i - 1] <= least[i]:
        i -= 1
    opposite = inner[int(np.argmin(gap[i]))]
    label = path.pieces[int(path.find(np.array([opposite]))[0])].label
    rise = frame.world(np.array([0.0, 0.0, 1.0]))
    slope = path.tangent(outer) @ rise
    top = p[:, 2] + d / 2 * np.sqrt(np.maximum(0.0, 1 - slope**2))
    return Mouth(max(0.0, float(least[i]) - d), max(0.0, float(top.max())), label)


def _near(geometry: Geometry, side: Side, d: float) -> Array:
    """Return arc lengths on the end's own wire and its first two coils, d/12 apart."""
    span = 4 * np.pi * geometry.radius
    shape = geometry.a if side == "a" else geometry.b
    length = min(geometry.path.length, span + sum(p.segment.length for p in shape.pieces))
    s: Array = np.linspace(0.0, length, int(12 * length / d) + 2)
    return s if side == "a" else geometry.path.length - s
