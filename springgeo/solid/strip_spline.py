"""Helix, bends and blends as spline surfaces: u = φ, v along the wire, both polynomial."""

from __future__ import annotations

import math

import numpy as np
from OCP.Geom import Geom_BSplineCurve, Geom_BSplineSurface
from OCP.gp import gp_Pnt
from OCP.TColgp import TColgp_Array1OfPnt, TColgp_Array2OfPnt
from OCP.TColStd import TColStd_Array1OfInteger, TColStd_Array1OfReal

from springgeo.curve.frame import Array, rotation_z
from springgeo.curve.kinds.helix import Helix
from springgeo.curve.segment import Segment
from springgeo.errors import BuildError
from springgeo.solid.spline_basis import ALONG, AROUND
from springgeo.solid.strip import Strip
from springgeo.solid.tube_spline import TubePoles, frames, met, tube_poles

# rad of turning per face: what one polynomial can hold. Longer faces make smaller files (measured
# with degree 9: of 1, 2, 3 turns 2.4, 1.7, 1.4 MB for 100 turns), but on two turns the kernel's
# search for the nearest point already stops early 5 times in 60 (on 1.2 turns never in 120).
FACE_TURN = 1.2 * 2 * math.pi
# rad, far beyond any real segment: a curve with a cusp
_MOST_TURNING = 1e4


def spline_strips(segment: Segment, turn: float, radius: float) -> list[Strip]:
    """Return the tube round any segment, in equal lengths that turn no more than a face may."""
    s = np.linspace(0.0, segment.length, 257)
    bend = np.linalg.norm(segment.curvature(s), axis=1)
    turning = float(np.mean((bend[1:] + bend[:-1]) / 2)) * segment.length
    if turning > _MOST_TURNING:
        raise BuildError("a segment of the wire bends too sharply to follow")
    n = max(1, math.ceil(turning / FACE_TURN - 1e-9))
    at = np.linspace(0.0, segment.length, n + 1)
    cuts = frames(segment, at, turn)
    tubes = [tube_poles(segment, at[i], at[i + 1], turn, radius) for i in range(n)]
    return [_strip(tube, cuts[i], cuts[i + 1]) for i, tube in enumerate(met(tubes))]


def helix_strips(helix: Helix, turn: float, radius: float) -> list[Strip]:
    """Return the tube round a helix: equal faces, the first computed and the rest screwed on."""
    n = max(1, math.ceil(2 * math.pi * helix.turns / FACE_TURN - 1e-9))
    at = np.linspace(0.0, helix.length, n + 1)
    cuts = frames(helix, at, turn)
    first = tube_poles(helix, 0.0, float(at[1]), turn, radius)
    tubes = [first, *(first.moved(*_screw(helix, float(s))) for s in at[1:-1])]
    return [_strip(tube, cuts[i], cuts[i + 1]) for i, tube in enumerate(met(tubes))]


def _screw(helix: Helix, shift: float) -> tuple[Array, Array]:
    """Return rotation and shift that carry the helix along itself by ``shift`` mm of wire."""
    turns = shift / helix.turn_length * (-1.0 if helix.backward else 1.0)
    axes, origin = helix.frame.axes, helix.frame.origin
    turned = axes @ rotation_z(2 * math.pi * turns) @ axes.T
    return turned, origin - turned @ origin + axes[:, 2] * (helix.pitch * turns)


def _strip(tube: TubePoles, start: Array, end: Array) -> Strip:
    return Strip(_surface(tube), _seam(tube), start, end, 0.0, 1.0)


def _surface(tube: TubePoles) -> Geom_BSplineSurface:
    around, along, _ = tube.poles.shape
    table = TColgp_Array2OfPnt(1, around, 1, along)
    for i, row in enumerate(tube.poles.tolist(), 1):
        for j, xyz in enumerate(row, 1):
            table.SetValue(i, j, gp_Pnt(*xyz))
    u, um = _knots(tube.spans_around, 2 * math.pi, AROUND)
    v, vm = _knots(tube.spans_along, 1.0, ALONG)
    return Geom_BSplineSurface(table, u, v, um, vm, AROUND, ALONG)


def _seam(tube: TubePoles) -> Geom_BSplineCurve:
    row = TColgp_Array1OfPnt(1, tube.poles.shape[1])
    for j, xyz in enumerate(tube.poles[0].tolist(), 1):
        row.SetValue(j, gp_Pnt(*xyz))
    knots, times = _knots(tube.spans_along, 1.0, ALONG)
    return Geom_BSplineCurve(row, knots, times, ALONG)


def _knots(
    spans: int, length: float, degree: int
) -> tuple[TColStd_Array1OfReal, TColStd_Array1OfInteger]:
    knots = TColStd_Array1OfReal(1, spans + 1)
    times = TColStd_Array1OfInteger(1, spans + 1)
    for i in range(spans + 1):
        knots.SetValue(i + 1, length * i / spans)
        times.SetValue(i + 1, degree + 1 if i in (0, spans) else 1)
    return knots, times
