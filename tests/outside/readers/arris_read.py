"""arris, a STEP reader with a kernel of its own: one solid, its volume."""

import json
import sys
from pathlib import Path

import arris

model = arris.Model()
solids = model.read_step(Path(sys.argv[1]).read_text(encoding="ascii")).solids
ok = len(solids) == 1 and solids[0].ok
what = f"{len(solids)} solid" if ok else str(solids[0].refusal.message if solids else "no solid")
volume = model.mass_properties(solids[0].body).volume if ok else 0.0
print(json.dumps({"volume": volume, "ok": ok, "what": what}))
