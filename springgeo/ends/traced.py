r"""Traced end: the wire goes through given points, read off a part that is like no style.

```
        .--.
       /    o
      o      \
       \      o   <- points of the wire's centreline, from the body outward
   =====o
```
The wire leaves the coil along its tangent and goes through the points by a cubic spline over the
chord, then from point to point by quintics of that spline's tangent and curvature: smooth in
tangent and curvature at every point.
"""

from __future__ import annotations

import math
from typing import Annotated

import numpy as np
from pydantic import Field

from springgeo.curve import Blend, Path, Piece, Role, tube_box
from springgeo.curve.frame import Array
from springgeo.ends.measured import measured_shape
from springgeo.ends.over_centre import machine_half_loop
from springgeo.ends.protocol import BodyEnd, EndParameters, EndShape
from springgeo.ends.shared.limits import mm
from springgeo.ends.shared.written_out import written_out
from springgeo.errors import refused
from springgeo.specification.quantity import Length
from springgeo.text.shown import said

# a knot nearer to the one before, in wire diameters, says nothing but its error
NEAREST = 0.05
# nobody leaves so much wire from one point to the next, in coil diameters
FURTHEST = 10.0
# a bend tighter than this, in wire diameters, would run into itself
TIGHTEST = 0.5
MOST = 400

Place = Annotated[tuple[Length, Length, Length], Field()]


class Traced(EndParameters):
    """Lengths in mm.

    ``points`` of the wire's centreline from the end of the body outward, each ``[x, y, z]`` from
    the last point of the coil: x from the axis outward, z along the axis out of the spring, y
    the way the wire goes on a right-hand spring (the mirror image on a left-hand one). Left out,
    the wire of a machine half loop.
    """

    points: Annotated[tuple[Place, ...], Field(min_length=2, max_length=MOST)] | None = None


def shape(p: Traced, end: BodyEnd) -> EndShape:
    """Return the wire through the points."""
    if p.points is None:
        return machine_half_loop.shape(machine_half_loop.MachineHalfLoop(), end)
    knots = np.concatenate([np.zeros((1, 3)), np.array(p.points)])
    gaps = np.linalg.norm(np.diff(knots, axis=0), axis=1)
    if gaps.min() < NEAREST * end.wire_diameter:
        raise refused(
            "points-too-near",
            "points",
            said(
                "two of them lie {gap} apart; leave one out (at least {least})",
                gap=mm(float(gaps.min())),
                least=mm(NEAREST * end.wire_diameter),
            ),
        )
    if gaps.max() > FURTHEST * 2 * end.coil_radius:
        raise refused(
            "points-too-far",
            "points",
            said(
                "two of them lie {gap} apart, more than {most}, ten coil diameters; give points "
                "between",
                gap=mm(float(gaps.max())),
                most=mm(FURTHEST * 2 * end.coil_radius),
            ),
        )
    knots[:, 0] += end.coil_radius
    pieces = _labelled(_blends(knots, end), end)
    tightest = max(x.segment.max_curvature for x in pieces)
    if tightest * TIGHTEST * end.wire_diameter >= 1:
        raise refused(
            "points-too-sharp",
            "points",
            said(
                "the wire through them bends to a radius of {radius}, below its own radius "
                "{least}; move or leave out points there",
                radius=mm(1 / tightest),
                least=mm(TIGHTEST * end.wire_diameter),
            ),
        )
    try:
        return measured_shape(pieces, end)
    except ValueError:
        # the wire is furthest out at one of its ends: nothing hooks in there
        top = float(tube_box(Path(pieces), end.wire_diameter / 2)[1, 2])
        return EndShape(tuple(pieces), max(0.0, top - end.face), reach=0.0)


def _blends(knots: Array, end: BodyEnd) -> list[Blend]:
    from scipy.interpolate import CubicSpline

    chord = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(knots, axis=0), axis=1))])
    lead = end.lead
    first = np.array([0.0, math.cos(lead), math.sin(lead)])
    spline = CubicSpline(chord, knots, bc_type=((1, first), (2, np.zeros(3))))
    slope, bent = spline(chord, 1), spline(chord, 2)
    speed = np.linalg.norm(slope, axis=1, keepdims=True)
    t = slope / speed
    k = (bent - t * np.sum(bent * t, axis=1, keepdims=True)) / speed**2
    t[0] = first
    states = list(zip(knots, t, k, strict=True))
    return [
        Blend.joining(a, b, float(gap))
        for a, b, gap in zip(states, states[1:], np.diff(chord), strict=False)
    ]


def _labelled(blends: list[Blend], end: BodyEnd) -> list[Piece]:
    """Return the pieces: a bend next to the body, the loop where the wire is furthest out."""
    plain = [Piece(b, f"trace-{i + 1}", "straight") for i, b in enumerate(blends)]
    path = Path(plain)
    heights = path.point((path.starts[:-1] + path.starts[1:]) / 2)[:, 2]
    top = float(heights.max())
    pieces = []
    for piece, height in zip(plain, heights.tolist(), strict=True):
        role: Role = "loop" if height > 0.5 * top and height > end.wire_diameter else "bend"
        pieces.append(Piece(piece.segment, piece.label, role))
    return pieces


END = written_out(
    shape,
    "traced centreline",
    "Wire through given points, as read off a part or a scan that is like no style.",
    offered=False,
)
