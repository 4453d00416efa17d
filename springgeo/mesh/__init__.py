"""The wire as triangles, straight from the centreline: no geometry kernel, provable accuracy."""

from springgeo.mesh.fitting import corners, part_mesh
from springgeo.mesh.triangles import Mesh
from springgeo.mesh.tube import frames, stations, tube_mesh

__all__ = ["Mesh", "corners", "frames", "part_mesh", "stations", "tube_mesh"]
