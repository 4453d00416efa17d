"""trimesh: watertight, consistent winding, volume; a GLB is in metres and stands upright."""

import json
import sys

import trimesh

mesh = trimesh.load_scene(sys.argv[1]).to_mesh()
mesh.merge_vertices(merge_norm=True, merge_tex=True)
volume = float(mesh.volume)
up = True
if sys.argv[1].endswith(".glb"):
    volume *= 1e9
    up = int(mesh.extents.argmax()) == 1
ok = bool(mesh.is_watertight and mesh.is_winding_consistent and up)
print(
    json.dumps({"volume": volume, "ok": ok, "what": f"{len(mesh.faces)} triangles, closed: {ok}"})
)
