"""A stretch of round tube as control points, for wire that is neither straight nor an arc."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.segment import Segment
from springgeo.errors import BuildError
from springgeo.solid.spline_basis import ALONG, greville, interpolation, probe
from springgeo.solid.spline_circle import circle_poles, circle_spans

# of the wire diameter: the share of the tube's error left to the spline along the wire
ALONG_TOLERANCE = 1e-7
# control points in mm are rounded to this many decimals, a tenth of the kernel's tolerance, so
# that a file need not spell out noise
_DECIMALS = 8
_SPANS = (*range(1, 25), 28, 32, 40, 48, 64, 96, 128)


@dataclass(frozen=True, eq=False)
class TubePoles:
    """Control points ``(around, along, 3) float, mm`` and the spans in both directions."""

    poles: Array
    spans_around: int
    spans_along: int

    def moved(self, rotation: Array, shift: Array) -> TubePoles:
        """Return the same stretch elsewhere: ``rotation`` (3, 3), then ``shift`` (3,) mm."""
        return replace(self, poles=np.round(self.poles @ rotation.T + shift, _DECIMALS))


def met(tubes: Sequence[TubePoles]) -> list[TubePoles]:
    """Return stretches of one segment whose last points are the first of the next, to the digit.

    They are the same but for rounding; a file then holds them once.
    """
    found = []
    for tube, following in zip(tubes, [*tubes[1:], None], strict=True):
        if following is not None:
            poles = tube.poles.copy()
            poles[:, -1] = following.poles[:, 0]
            tube = replace(tube, poles=poles)
        found.append(tube)
    return found


def frames(segment: Segment, s: Array, turn: float) -> Array:
    """Return centre, E1 and E2 at arc lengths ``s``, ``(n, 3, 3) float``.

    E1 is the segment's own normal turned by ``turn`` rad about the tangent T; E2 = T × E1, so
    that the angle φ from E1 to E2 runs right-handed about T, in mirrored segments too.
    """
    t, own = segment.tangent(s), segment.normal(s)
    side = np.cross(t, own)
    e1 = np.cos(turn) * own + np.sin(turn) * side
    e2 = np.cos(turn) * side - np.sin(turn) * own
    return np.stack([segment.point(s), e1, e2], axis=1)


def tube_poles(segment: Segment, start: float, end: float, turn: float, radius: float) -> TubePoles:
    """Return the tube of ``radius`` mm between two arc lengths of a segment.

    Raises
    ------
    BuildError
        The curve is too sharp to be followed.
    """
    around = circle_spans(radius)
    for spans in _SPANS:
        rows = interpolation(spans, ALONG) @ _frames9(
            segment, start, end, turn, greville(spans, ALONG)
        )
        x, between = probe(spans, ALONG)
        error = (between @ rows - _frames9(segment, start, end, turn, x)).reshape(-1, 3, 3)
        off = np.linalg.norm(error, axis=2) @ [1.0, radius, radius]
        if off.max() <= 2 * radius * ALONG_TOLERANCE:
            cos, sin = radius * circle_poles(around).T
            c, e1, e2 = np.moveaxis(rows.reshape(-1, 3, 3), 1, 0)
            poles = c + cos[:, None, None] * e1 + sin[:, None, None] * e2
            return TubePoles(np.round(poles, _DECIMALS), around, spans)
    raise BuildError(f"the wire bends too sharply between {start:.6g} and {end:.6g} mm to follow")


def _frames9(segment: Segment, start: float, end: float, turn: float, x: Array) -> Array:
    return frames(segment, start + (end - start) * x, turn).reshape(-1, 9)
