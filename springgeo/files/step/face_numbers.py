"""The faces of a solid by the numbers that a STEP file says of them, from the kernel's surfaces."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

import numpy as np
from OCP.BRep import BRep_Tool
from OCP.Geom import (
    Geom_ConicalSurface,
    Geom_CylindricalSurface,
    Geom_ElementarySurface,
    Geom_Plane,
    Geom_SphericalSurface,
    Geom_Surface,
    Geom_ToroidalSurface,
)
from OCP.TopAbs import TopAbs_Orientation

from springgeo.curve.frame import Array
from springgeo.files.step.said import Face
from springgeo.solid import Faces
from springgeo.solid.spline_face import SplineFace

_SPLINE = "B_SPLINE_SURFACE_WITH_KNOTS"


def solid_faces(faces: Faces) -> Iterator[Face]:
    """Yield the faces of a solid in order, as `said.Said` has those of a file.

    Raises
    ------
    ValueError
        A surface of a kind that no solid here has.
    """
    for face, spline in faces.faces:
        surface = BRep_Tool.Surface_s(face)
        along = face.Orientation() == TopAbs_Orientation.TopAbs_FORWARD
        if spline is not None:
            yield Face(_SPLINE, along, _spline(spline))
        elif isinstance(surface, Geom_ElementarySurface):
            at = surface.Position()
            kind, *sizes = _elementary(surface)
            axis = np.array(at.Direction().Coord())
            if isinstance(surface, Geom_ConicalSurface) and surface.SemiAngle() < 0:
                axis = -axis  # a file's cones open along their axes
            # and its axes are right-handed: of others the surface's normal is turned
            numbers = np.array([*at.Location().Coord(), *axis, *sizes])
            yield Face(kind, along == at.Direct(), numbers)
        else:
            raise ValueError(f"a face on a {type(surface).__name__}")


def _elementary(surface: Geom_Surface) -> tuple[str, *tuple[float, ...]]:
    """Return a surface's keyword, and the numbers that stand behind its place: mm, rad."""
    match surface:
        case Geom_Plane():
            return ("PLANE",)
        case Geom_CylindricalSurface():
            return "CYLINDRICAL_SURFACE", surface.Radius()
        case Geom_ConicalSurface():
            return "CONICAL_SURFACE", surface.RefRadius(), abs(surface.SemiAngle())
        case Geom_ToroidalSurface():
            return "TOROIDAL_SURFACE", surface.MajorRadius(), surface.MinorRadius()
        case Geom_SphericalSurface():
            return "SPHERICAL_SURFACE", surface.Radius()
    raise ValueError(f"a face on a {type(surface).__name__}")


def _spline(spline: SplineFace) -> Array:
    rows = spline.u, spline.v
    runs = [[(x, len([*same])) for x, same in groupby(row.knots)] for row in rows]
    times = [n for run in runs for _, n in run]
    knots = [x for run in runs for x, _ in run]
    return np.concatenate([[row.degree for row in rows], spline.poles.ravel(), times, knots])
