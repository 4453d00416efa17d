"""One face of the tube before it is a face: a kernel surface and how (φ, along) lie on it."""

from __future__ import annotations

from dataclasses import dataclass

from OCP.Geom import Geom_Curve, Geom_Surface
from OCP.Geom2d import Geom2d_Line
from OCP.gp import gp_Dir2d, gp_Pnt2d

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

    def ring(self, along: float, offset: float) -> Geom2d_Line:
        """Return the curve φ = t + ``offset`` of a cross-section, in the surface's own plane."""
        if self.angle_first:
            return Geom2d_Line(gp_Pnt2d(offset, along), gp_Dir2d(1.0, 0.0))
        return Geom2d_Line(gp_Pnt2d(along, offset), gp_Dir2d(0.0, 1.0))

    def line(self, angle: float) -> Geom2d_Line:
        """Return the lengthwise curve at φ = ``angle``, in the surface's own plane."""
        if self.angle_first:
            return Geom2d_Line(gp_Pnt2d(angle, 0.0), gp_Dir2d(0.0, 1.0))
        return Geom2d_Line(gp_Pnt2d(0.0, angle), gp_Dir2d(1.0, 0.0))
