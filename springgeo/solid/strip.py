"""One face of the tube before it is a face: a kernel surface and how (φ, along) lie on it."""

from __future__ import annotations

from dataclasses import dataclass

from OCP.Geom import Geom_BSplineSurface, Geom_Curve, Geom_Surface
from OCP.Geom2d import Geom2d_BSplineCurve, Geom2d_Curve, Geom2d_Line
from OCP.gp import gp_Dir2d, gp_Pnt2d
from OCP.TColgp import TColgp_Array1OfPnt2d
from OCP.TColStd import TColStd_Array1OfInteger, TColStd_Array1OfReal

from springgeo.curve.frame import Array


@dataclass(frozen=True, eq=False)
class Strip:
    """The tube between two cross-sections.

    Attributes
    ----------
    surface : Geom_Surface
        Its normal (first derivative in u across that in v) points out of the wire.
    seam : Geom_Curve
        The line φ = 0, parametrised as the surface is.
    start, end : (3, 3) float
        Centre, E1 and E2 of the two cross-sections, mm.
    low, high : float
        Where the start and the end lie on the surface's lengthwise parameter.
    angle_first : bool
        True where φ is u and the wire runs along v; false on a torus, where φ is v.
    """

    surface: Geom_Surface
    seam: Geom_Curve
    start: Array
    end: Array
    low: float
    high: float
    angle_first: bool = True

    def ring(self, along: float, offset: float, span: tuple[float, float]) -> Geom2d_Curve:
        """Return the curve φ = t + ``offset`` of a cross-section, in the surface's own plane.

        On a spline surface it ends where the edge does, at ``span``: on an endless line, the
        reader of a file looks for the edge's middle all along it, in a third of its whole time.
        """
        if isinstance(self.surface, Geom_BSplineSurface):
            return _between(span, offset, along)
        if self.angle_first:
            return Geom2d_Line(gp_Pnt2d(offset, along), gp_Dir2d(1.0, 0.0))
        return Geom2d_Line(gp_Pnt2d(along, offset), gp_Dir2d(0.0, 1.0))

    def line(self, angle: float) -> Geom2d_Line:
        """Return the lengthwise curve at φ = ``angle``, in the surface's own plane."""
        if self.angle_first:
            return Geom2d_Line(gp_Pnt2d(angle, 0.0), gp_Dir2d(0.0, 1.0))
        return Geom2d_Line(gp_Pnt2d(0.0, angle), gp_Dir2d(1.0, 0.0))


def _between(span: tuple[float, float], offset: float, along: float) -> Geom2d_BSplineCurve:
    """Return (t + ``offset``, ``along``) for t in ``span``, as a spline of one straight piece."""
    ends = TColgp_Array1OfPnt2d(1, 2)
    knots, times = TColStd_Array1OfReal(1, 2), TColStd_Array1OfInteger(1, 2)
    for i, t in enumerate(span, 1):
        ends.SetValue(i, gp_Pnt2d(t + offset, along))
        knots.SetValue(i, t)
        times.SetValue(i, 2)
    return Geom2d_BSplineCurve(ends, knots, times, 1)
