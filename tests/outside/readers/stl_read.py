"""numpy-stl: closed, its own volume."""

import json
import sys

from stl import mesh

found = mesh.Mesh.from_file(sys.argv[1])
volume = float(found.get_mass_properties()[0])
ok = bool(found.is_closed(exact=True))
print(json.dumps({"volume": volume, "ok": ok, "what": f"{len(found)} triangles, closed: {ok}"}))
