"""lib3mf, strict: no warning, closed oriented objects, the summary as an attachment."""

import json
import sys

import lib3mf

KEEP = "http://schemas.openxmlformats.org/package/2006/relationships/mustpreserve"
model = lib3mf.get_wrapper().CreateModel()
reader = model.QueryReader("3mf")
reader.SetStrictModeActive(True)
reader.AddRelationToRead(KEEP)
reader.ReadFromFile(sys.argv[1])
warnings = [reader.GetWarning(i) for i in range(reader.GetWarningCount())]
found, closed, volume = model.GetMeshObjects(), [], 0.0
while found.MoveNext():
    mesh = found.GetCurrentMeshObject()
    closed.append(mesh.IsManifoldAndOriented())
    corners = [v.Coordinates for v in mesh.GetVertices()]
    for t in mesh.GetTriangleIndices():
        (a, b, c), (d, e, f), (g, h, i) = (corners[k] for k in t.Indices)
        volume += (a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)) / 6
paths = [model.GetAttachment(i).GetPath() for i in range(model.GetAttachmentCount())]
ok = not warnings and all(closed) and any("summary" in p for p in paths)
what = f"{len(closed)} closed object(s), {len(warnings)} warnings, {len(paths)} attachments"
print(json.dumps({"volume": volume, "ok": ok, "what": what}))
