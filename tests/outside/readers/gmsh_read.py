"""gmsh: read the MSH file, its hexahedra and physical groups, and integrate its volume."""

import json
import sys

import gmsh
import numpy as np

gmsh.initialize()
gmsh.option.setNumber("General.Terminal", 0)
gmsh.open(sys.argv[1])
KIND, FACE = 17, 16  # twenty-node hexahedron, eight-node quadrilateral
tags, _ = gmsh.model.mesh.getElementsByType(KIND)
faces, _ = gmsh.model.mesh.getElementsByType(FACE)
points, weights = gmsh.model.mesh.getIntegrationPoints(KIND, "Gauss4")
_, determinants, _ = gmsh.model.mesh.getJacobians(KIND, points)
determinants = determinants.reshape(len(tags), len(weights))
groups = [gmsh.model.getPhysicalName(*g) for g in gmsh.model.getPhysicalGroups()]
print(
    json.dumps(
        {
            "volume": float((determinants @ weights).sum()),
            "ok": float(np.min(determinants)) > 0 and {"BODY", "SURFACE"} <= set(groups),
            "what": f"{len(tags)} hexahedra, {len(faces)} faces, groups {', '.join(groups)}",
        }
    )
)
