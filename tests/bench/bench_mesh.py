"""Time of our mesh against the geometry kernel's own, at the same chord error.

Run ``python tests/bench/bench_mesh.py``. A body of 20 coils, index 8; the kernel meshes a solid
swept along its own helix with a linear deflection equal to our chord error, on one thread. Both
are timed in one process, best of several; how far each truly is from the tube is measured too.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import cadquery as cq
import numpy as np
from OCP.BRep import BRep_Tool
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepTools import BRepTools
from OCP.TopLoc import TopLoc_Location

from springgeo.curve import Helix, Path, Piece
from springgeo.mesh import tube_mesh

COILS, DIAMETER, RADIUS, PITCH = 20.0, 1.0, 4.0, 1.05
CHORD = 0.01 * DIAMETER
TARGET = 50.0


def kernel_solid() -> cq.Solid:
    """Return the body as the kernel sweeps it along its own helix."""
    spine = cq.Wire.makeHelix(PITCH, COILS * PITCH, RADIUS)
    profile = cq.Wire.makeCircle(DIAMETER / 2, cq.Vector(RADIUS, 0, 0), cq.Vector(0, 1, 0))
    return cq.Solid.sweep(profile, [], spine, isFrenet=True)


def kernel_mesh(solid: cq.Solid) -> int:
    """Mesh the solid afresh; return the number of triangles."""
    BRepTools.Clean_s(solid.wrapped)
    # 0.5 rad, the kernel's usual angular deflection, never binds before the linear one here
    BRepMesh_IncrementalMesh(solid.wrapped, CHORD, False, 0.5, False)
    count = 0
    for face in solid.Faces():
        triangles = BRep_Tool.Triangulation_s(face.wrapped, TopLoc_Location())
        count += triangles.NbTriangles()
    return count


def best(call: Callable[[], object], times: int) -> float:
    """Return the shortest of several times, s."""
    found = math.inf
    for _ in range(times):
        start = time.perf_counter()
        call()
        found = min(found, time.perf_counter() - start)
    return found


def main() -> None:
    """Print both times and their ratio."""
    path = Path([Piece(Helix(radius=RADIUS, pitch=PITCH, turns=COILS), "body", "body")])
    mesh = tube_mesh(path, DIAMETER / 2, CHORD)
    ours = best(lambda: tube_mesh(path, DIAMETER / 2, CHORD), 20)
    solid = kernel_solid()
    theirs = best(lambda: kernel_mesh(solid), 3)
    exact = math.pi * DIAMETER**2 / 4 * path.length
    print(
        f"ours    {1e3 * ours:9.2f} ms  {len(mesh.faces):8,} triangles  "
        f"volume {100 * (mesh.volume / exact - 1):+.2f} %"
    )
    print(
        f"kernel  {1e3 * theirs:9.2f} ms  {kernel_mesh(solid):8,} triangles  "
        f"volume {100 * (kernel_volume(solid) / exact - 1):+.2f} %"
    )
    print(
        f"ratio   {theirs / ours:9.0f}     target {TARGET:.0f}: "
        f"{'met' if theirs >= TARGET * ours else 'MISSED'}"
    )


def kernel_volume(solid: cq.Solid) -> float:
    """Return the volume inside the kernel's triangles, mm³."""
    vertices, faces = solid.tessellate(CHORD, 0.5)
    corners = np.array([v.toTuple() for v in vertices])[np.array(faces)]
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    return abs(float(np.sum(a * np.cross(b, c)))) / 6


if __name__ == "__main__":
    main()
