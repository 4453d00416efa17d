"""gmsh: import the STEP file, fill it with second-order tetrahedra, integrate their volume."""

import json
import sys

import gmsh
import numpy as np

gmsh.initialize()
gmsh.option.setNumber("General.Terminal", 0)
gmsh.model.occ.importShapes(sys.argv[1])
gmsh.model.occ.synchronize()
for name in ("Mesh.MeshSizeMax", "Mesh.MeshSizeMin"):
    gmsh.option.setNumber(name, float(sys.argv[2]))
gmsh.option.setNumber("Mesh.ElementOrder", 2)
gmsh.option.setNumber("Mesh.HighOrderOptimize", 1)
gmsh.model.mesh.generate(3)
KIND = 11  # ten-node tetrahedron
tags, _ = gmsh.model.mesh.getElementsByType(KIND)
points, weights = gmsh.model.mesh.getIntegrationPoints(KIND, "Gauss4")
_, determinants, _ = gmsh.model.mesh.getJacobians(KIND, points)
determinants = determinants.reshape(len(tags), len(weights))
least = float(np.min(gmsh.model.mesh.getElementQualities(tags, "minSJ")))
volume = float((determinants @ weights).sum())
print(
    json.dumps(
        {
            "volume": volume,
            "ok": least > 0 and float(determinants.min()) > 0,
            "what": f"{len(tags)} tetrahedra, least scaled Jacobian {least:.3f}",
        }
    )
)
