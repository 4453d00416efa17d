"""The wire as triangles, straight from the centreline: no geometry kernel, provable accuracy."""

from springgeo.mesh.triangles import Mesh
from springgeo.mesh.tube import tube_mesh

__all__ = ["Mesh", "tube_mesh"]
