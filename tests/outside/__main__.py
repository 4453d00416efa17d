"""Writes one short spring in every format and lets independent programs read it.

``python -m tests.outside`` installs what PyPI has into a throw-away environment, uses programs
that are on the path, and says why it leaves one out. Ends with 1 if a reader disagrees.
"""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from springgeo.api import Spring
from springgeo.files.publish.bundle import export_bundle
from tests.outside.programs import PROGRAMS

SPEC = {
    "name": "outside",
    "wire": {"material": "astm-a228", "diameter": "2 mm"},
    "body": {"mean_diameter": "12 mm", "coils": 2, "gap": "1 mm"},
    "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "machine-half-loop"}},
}
FORMATS = ("step", "stl", "3mf", "glb", "obj", "ply", "brep", "msh")
# meshes lie inside the tube by at most 0.01 d, which is at most 4 % of the volume
EXACT, MESHED = 1e-6, 0.04
SECONDS = 400


class Reader(NamedTuple):
    """A package, its script, the file it gets, further words, the bound on the volume."""

    package: str
    script: str
    ending: str
    words: tuple[str, ...]
    bound: float


READERS = (
    Reader("arris", "arris_read", "step", (), EXACT),
    Reader("gmsh", "gmsh_mesh", "step", ("0.8",), 1e-3),
    Reader("gmsh", "gmsh_read", "msh", (), 1e-3),
    Reader("lib3mf", "lib3mf_read", "3mf", (), MESHED),
    Reader("numpy-stl", "stl_read", "stl", (), MESHED),
    Reader("trimesh", "trimesh_read", "stl", (), MESHED),
    Reader("trimesh", "trimesh_read", "glb", (), MESHED),
    Reader("trimesh", "trimesh_read", "obj", (), MESHED),
    Reader("trimesh", "trimesh_read", "ply", (), MESHED),
)
Row = tuple[str, str, str, str, str]


def main() -> int:
    """Print a row per reader; return 1 if any found something wrong."""
    rows: list[Row] = [("reader", "file", "result", "volume off by", "seconds, what it saw")]
    with tempfile.TemporaryDirectory() as place:
        spring = Spring.from_dict(SPEC)
        export_bundle(spring.model, Path(place), formats=FORMATS)
        g = spring.model.geometry
        exact = math.pi * g.wire_diameter**2 / 4 * g.path.length
        python, missing = environment(Path(place) / "venv")
        for reader in READERS:
            file = Path(place) / f"outside.{reader.ending}"
            if reader.package in missing:
                rows.append((reader.package, reader.ending, "skipped", "", missing[reader.package]))
                continue
            script = Path(__file__).parent / "readers" / f"{reader.script}.py"
            command = [str(python), str(script), str(file), *reader.words]
            rows.append(row(reader, command, exact))
        rows += [program(Path(place), exact) for program in PROGRAMS]
    widths = [max(len(r[i]) for r in rows) for i in range(4)]
    for r in rows:
        cells = [cell.ljust(w) for cell, w in zip(r, widths, strict=False)]
        sys.stdout.write("  ".join([*cells, r[4]]).rstrip() + "\n")
    return int(any(r[2] == "FAILED" for r in rows))


def environment(place: Path) -> tuple[Path, dict[str, str]]:
    """Return the interpreter of a new environment, and why packages are missing from it."""
    subprocess.run([sys.executable, "-m", "venv", str(place)], check=True)
    python = place / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    missing = {}
    for package in dict.fromkeys(r.package for r in READERS):
        command = [str(python), "-m", "pip", "install", "-q", package]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        if done.returncode:
            lines = [x for x in done.stderr.splitlines() if x.startswith("ERROR")]
            missing[package] = (lines or ["it cannot be installed"])[-1][:90]
    return python, missing


def row(reader: Reader, command: list[str], exact: float) -> Row:
    """Run one reader and return its row."""
    start = time.monotonic()
    try:
        done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=SECONDS)
    except subprocess.TimeoutExpired:
        return reader.package, reader.ending, "skipped", "", f"not done within {SECONDS} s"
    took = time.monotonic() - start
    try:
        found = json.loads(done.stdout.splitlines()[-1])
    except (IndexError, ValueError):
        last = (done.stderr.splitlines() or ["no answer"])[-1]
        return reader.package, reader.ending, "FAILED", "", last[:90]
    off = found["volume"] / exact - 1
    word = "ok" if found["ok"] and abs(off) <= reader.bound else "FAILED"
    return reader.package, reader.ending, word, f"{off:+.1e}", f"{took:.1f}, {found['what']}"


if __name__ == "__main__":
    sys.exit(main())
