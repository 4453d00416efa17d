"""The exact box of a piece of a torus, in closed form: the kernel's own is not to be relied on.

Where rounding makes a turn of its parameters longer than a full one, as in a file read back, the
kernel takes the piece for more than it is; as a spline surface its search misses the furthest
point.
"""

from __future__ import annotations

import math

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.GeomAbs import GeomAbs_SurfaceType
from OCP.gp import gp_Dir, gp_Pnt
from OCP.TopoDS import TopoDS, TopoDS_Shape

from springgeo.curve.frame import Array


def torus_box(face: TopoDS_Shape) -> Array | None:
    """Return the box ``(2, 3) float, mm`` of a face on a ring torus; None for any other face.

    The piece is taken as a rectangle of the torus' two angles u (about its axis) and v. With
    g(u) = n·X cos u + n·Y sin u, a point reaches n·C + R g + r (g cos v + n·Z sin v) in the
    direction n. R > r: the greatest g is best for every v.
    """
    surface = BRepAdaptor_Surface(TopoDS.Face_s(face))
    if surface.GetType() != GeomAbs_SurfaceType.GeomAbs_Torus:
        return None
    torus = surface.Torus()
    ring, tube = torus.MajorRadius(), torus.MinorRadius()
    if ring <= tube:
        return None
    place = torus.Position()
    axes = np.array([_xyz(place.XDirection()), _xyz(place.YDirection()), _xyz(place.Direction())])
    centre = np.array(_xyz(place.Location()))
    u = surface.FirstUParameter(), surface.LastUParameter()
    v = surface.FirstVParameter(), surface.LastVParameter()
    box = np.empty((2, 3))
    for i in range(3):
        for row, sign in ((0, -1.0), (1, 1.0)):
            a, b, c = (sign * axes[:, i]).tolist()
            g = _highest(a, b, *u)
            box[row, i] = centre[i] + sign * (ring * g + tube * _highest(g, c, *v))
    return box


def _highest(a: float, b: float, low: float, high: float) -> float:
    """Return the greatest a cos t + b sin t for t from ``low`` to ``high`` rad."""
    peak = math.atan2(b, a)
    if low + (peak - low) % (2 * math.pi) <= high:
        return math.hypot(a, b)
    return max(a * math.cos(t) + b * math.sin(t) for t in (low, high))


def _xyz(of: gp_Dir | gp_Pnt) -> tuple[float, float, float]:
    return of.X(), of.Y(), of.Z()
