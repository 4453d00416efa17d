"""The faces of a shape, polynomial ones as numbers: read once for its volume and its surface."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from OCP.BRepGProp import BRepGProp_Domain, BRepGProp_Face, BRepGProp_Vinert
from OCP.gp import gp_Pnt
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Face, TopoDS_Shape

from springgeo.solid.spline_face import SplineFace, enclosed

# to which share of itself the kernel integrates a cylinder, a torus or a plane
_ELEMENTARY = 1e-6


@dataclass(frozen=True, eq=False)
class Faces:
    """Every face of a shape, and beside it as numbers where it is a whole polynomial surface."""

    shape: TopoDS_Shape
    faces: tuple[tuple[TopoDS_Face, SplineFace | None], ...]

    @classmethod
    def of(cls, shape: TopoDS_Shape) -> Faces:
        """Read the faces of a shape."""
        explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_FACE)
        found = []
        while explorer.More():
            face = TopoDS.Face_s(explorer.Current())
            found.append((face, SplineFace.of(face)))
            explorer.Next()
        return cls(shape, tuple(found))

    @property
    def volume(self) -> float:
        """What they enclose if they are closed, mm³: as exact as the numbers of the splines."""
        splines = [spline for _, spline in self.faces if spline is not None]
        # against a point inside, or the large contributions of faces would cancel
        middles = [spline.poles.mean(axis=(0, 1)) for spline in splines]
        about = np.mean(middles, axis=0) if middles else np.zeros(3)
        kernel = [_share(face, about.tolist()) for face, spline in self.faces if spline is None]
        return enclosed(splines, about) + sum(kernel)


def _share(face: TopoDS_Face, about: list[float]) -> float:
    """Return what a face encloses with a point, by the kernel, mm³."""
    domain, surface = BRepGProp_Domain(face), BRepGProp_Face(face)
    return float(BRepGProp_Vinert(surface, domain, gp_Pnt(*about), _ELEMENTARY).Mass())
