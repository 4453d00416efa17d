"""A triangle mesh as two arrays."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array

if TYPE_CHECKING:
    from trimesh import Trimesh

Faces = npt.NDArray[np.int32]


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles that share their corners.

    Attributes
    ----------
    vertices : (n, 3) float64, mm
    faces : (m, 3) int32
        Indices into ``vertices``, counter-clockwise seen from outside.
    """

    vertices: Array
    faces: Faces

    @property
    def triangles(self) -> Array:
        """Corners of every triangle, ``(m, 3, 3) float64, mm``: triangle, corner, coordinate."""
        return self.vertices[self.faces]

    @property
    def volume(self) -> float:
        """Signed volume of the polyhedron, mm³; negative where the faces look inward."""
        a, ab, ac = _corner_and_edges(self.triangles - self.vertices.mean(axis=0))
        return float(np.sum(a * np.cross(ab, ac))) / 6

    @property
    def area(self) -> float:
        """Area of all triangles, mm²."""
        _, ab, ac = _corner_and_edges(self.triangles)
        return float(np.linalg.norm(np.cross(ab, ac), axis=1).sum()) / 2

    def trimesh(self) -> Trimesh:
        """Return the mesh as a ``trimesh.Trimesh``, corners and faces untouched."""
        import trimesh

        return trimesh.Trimesh(vertices=self.vertices, faces=self.faces, process=False)


def _corner_and_edges(triangles: Array) -> tuple[Array, Array, Array]:
    a = triangles[:, 0]
    return a, triangles[:, 1] - a, triangles[:, 2] - a
