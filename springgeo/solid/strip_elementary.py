"""Straight wire as a cylinder, and a planar arc as a torus: exact, small and quick surfaces."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
from OCP.Geom import Geom_Circle, Geom_CylindricalSurface, Geom_Line, Geom_ToroidalSurface
from OCP.gp import gp_Ax2, gp_Ax3, gp_Dir, gp_Pnt

from springgeo.curve.frame import Array
from springgeo.curve.kinds.arc import Arc
from springgeo.curve.kinds.line import Line
from springgeo.solid.strip import Strip
from springgeo.solid.tube_spline import frames


def line_strips(line: Line, turn: float, radius: float) -> list[Strip]:
    """Return the cylinder round a straight wire: u = φ, v along."""
    start, end = frames(line, np.array([0.0, line.length]), turn)
    along = np.cross(start[1], start[2])
    axes = gp_Ax3(gp_Pnt(*start[0]), gp_Dir(*along), gp_Dir(*start[1]))
    seam = Geom_Line(gp_Pnt(*(start[0] + radius * start[1])), gp_Dir(*along))
    surface = Geom_CylindricalSurface(axes, radius)
    return [Strip(surface, seam, start, end, 0.0, line.length)]


def arc_strips(arc: Arc, radius: float) -> list[Strip]:
    """Return the torus round an arc, in equal parts of no more than half a turn: v = φ.

    The seam of a torus lies where its own v is zero, on its outside, so the frame cannot be
    turned. With E1 outward and E2 = T × E1 for the torus's axis, v grows as φ does, and u
    against the wire: each part counts u from its own end.
    """
    n = max(1, math.ceil(arc.angle / math.pi - 1e-9))
    cuts = frames(arc, np.linspace(0.0, arc.length, n + 1), 0.0)
    return [_torus_strip(a, b, arc.radius, arc.angle / n, radius) for a, b in pairwise(cuts)]


def _torus_strip(start: Array, end: Array, major: float, angle: float, radius: float) -> Strip:
    centre = gp_Pnt(*(end[0] - major * end[1]))
    axis, across = gp_Dir(*end[2]), gp_Dir(*end[1])
    surface = Geom_ToroidalSurface(gp_Ax3(centre, axis, across), major, radius)
    seam = Geom_Circle(gp_Ax2(centre, axis, across), major + radius)
    return Strip(surface, seam, start, end, angle, 0.0, angle_first=False)
