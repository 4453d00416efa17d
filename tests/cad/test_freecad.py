"""A program with an older kernel opens the assembly: the same valid solids, the same volumes."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from springgeo import Spring, cad
from springgeo.cad.parts import placed_parts
from springgeo.fit import Mating
from springgeo.solid import volume

PROGRAM = shutil.which("freecadcmd") or shutil.which("FreeCADCmd")
# read as a shape: FreeCAD 0.20 without a window crashes on any assembly it inserts as a document
SCRIPT = """
import Part
for solid in Part.read({file!r}).Solids:
    print("found", solid.isValid(), repr(solid.Volume))
"""


@pytest.mark.skipif(PROGRAM is None, reason="FreeCAD is not installed (freecadcmd)")
def test_freecad_sees_the_same_solids(short: Spring, everything: Mating, tmp_path: Path) -> None:
    state = short.at(length=1.1 * short.free_length)
    file = cad.write_assembly(tmp_path / "all.step", short, state, everything)
    script = tmp_path / "look.py"
    script.write_text(SCRIPT.format(file=str(file)), encoding="utf-8")
    done = subprocess.run(
        [str(PROGRAM), str(script)], capture_output=True, text=True, check=False, timeout=300
    )
    found = re.findall(r"found (\w+) (\S+)", done.stdout)
    if not found:
        pytest.skip(f"FreeCAD gave no answer: {(done.stderr or done.stdout)[-200:]}")
    wanted = [volume(p.in_place.wrapped) for p in placed_parts(state, everything)]
    assert [valid for valid, _ in found] == ["True"] * len(wanted)
    assert [float(v) for _, v in found] == pytest.approx(wanted, rel=1e-6)
