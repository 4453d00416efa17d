"""Any CadQuery or STEP solid as an obstacle of the fit: its distance comes from the kernel."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

import numpy as np
from cadquery import Compound, Shape
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepClass3d import BRepClass3d_SolidClassifier
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.gp import gp_Pnt
from OCP.TopAbs import TopAbs_State

from springgeo.curve.frame import Array
from springgeo.errors import BuildError

_SIDE = 1e-7


class SolidObstacle:
    """A solid that the wire may meet, for ``springgeo.fit.fit(..., solids={"bracket": ...})``.

    Parameters
    ----------
    shape : Shape
        One or several solids, in the spring's frame (or in an end's: see ``Attached``).

    Raises
    ------
    BuildError
        The shape holds no solid.
    """

    def __init__(self, shape: Shape) -> None:
        self.solids = shape.Solids()
        if not self.solids:
            raise BuildError(
                f"a {shape.ShapeType().lower()} without a solid cannot be an obstacle; "
                "close its faces to a solid"
            )
        shells = [face for solid in self.solids for face in solid.Faces()]
        self._skin = Compound.makeCompound(shells).wrapped
        boxes = [solid.BoundingBox() for solid in self.solids]
        self._boxes = np.array(
            [[(b.xmin, b.ymin, b.zmin), (b.xmax, b.ymax, b.zmax)] for b in boxes]
        )

    @classmethod
    def read(cls, path: str | PathLike[str]) -> SolidObstacle:
        """Return what a STEP file holds; raises FileError or BuildError."""
        from springgeo.files.apart import require_step
        from springgeo.files.step.read import read_step

        place = Path(path)
        require_step(place)  # a damaged file may bring the kernel down: not this process
        return cls(Shape.cast(read_step(place).shape))

    def distance(self, point: Array) -> Array:
        """Return signed distances ``(n,) float, mm`` of points ``(n, 3)``; inside, the depth.

        Points that cannot be the nearest get the distance from the solids' box instead, which
        is never greater than the true one.
        """
        rough = self._rough(point)
        out, best, reach = rough.copy(), np.inf, _reach(point)
        for i in np.argsort(rough, kind="stable"):
            if rough[i] > max(best, 0.0) + reach:
                break
            out[i] = self._exact(point[i])
            best = min(best, float(out[i]))
        return out

    def _rough(self, point: Array) -> Array:
        below = self._boxes[:, 0] - point[:, None]
        above = point[:, None] - self._boxes[:, 1]
        apart = np.linalg.norm(np.maximum(np.maximum(below, above), 0.0), axis=2)
        result: Array = apart.min(axis=1)
        return result

    def _exact(self, point: Array) -> float:
        place = gp_Pnt(*map(float, point))
        found = BRepExtrema_DistShapeShape(BRepBuilderAPI_MakeVertex(place).Vertex(), self._skin)
        if not found.IsDone():
            raise BuildError("the kernel found no distance to a solid; check that it is valid")
        away = float(found.Value())
        return -away if self._holds(place) else away

    def _holds(self, place: gp_Pnt) -> bool:
        inside = TopAbs_State.TopAbs_IN
        return any(
            BRepClass3d_SolidClassifier(solid.wrapped, place, _SIDE).State() == inside
            for solid in self.solids
        )


def _reach(point: Array) -> float:
    """Return how far, mm, two neighbours of a point may lie apart: so much hides between them."""
    if len(point) < 2:
        return 0.0
    return 2 * float(np.linalg.norm(np.diff(point, axis=0), axis=1).max())
