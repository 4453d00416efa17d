"""A stretch of another segment: what lies between two of its arc lengths."""

from __future__ import annotations

from dataclasses import dataclass, replace

from springgeo.curve.frame import Array, Frame, rotation_z
from springgeo.curve.kinds.arc import Arc
from springgeo.curve.kinds.line import Line
from springgeo.curve.segment import Segment


@dataclass(frozen=True, eq=False, kw_only=True)
class Stretch(Segment):
    """The part of ``whole`` from arc length ``first`` to ``last``, mm."""

    whole: Segment
    first: float
    last: float

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return self.last - self.first

    def _point(self, s: Array) -> Array:
        return self.whole.point(self.first + s)

    def _tangent(self, s: Array) -> Array:
        return self.whole.tangent(self.first + s)

    def _curvature(self, s: Array) -> Array:
        return self.whole.curvature(self.first + s)

    def _normal(self, s: Array) -> Array:
        return self.whole.normal(self.first + s)


def stretch(whole: Segment, first: float, last: float) -> Segment:
    """Return the part of a segment between two arc lengths, mm; lines and arcs stay such."""
    if first <= 0.0 and last >= whole.length:
        return whole
    low, high = (first, last) if not whole.backward else (whole.length - last, whole.length - first)
    if isinstance(whole, Line):
        start = whole.frame.origin + low * whole.frame.axes[:, 0]
        return replace(whole, frame=Frame(start, whole.frame.axes), span=high - low)
    if isinstance(whole, Arc):
        axes = whole.frame.axes @ rotation_z(low / whole.radius)
        angle = (high - low) / whole.radius
        return replace(whole, frame=Frame(whole.frame.origin, axes), angle=angle)
    return Stretch(whole=whole, first=first, last=last)
