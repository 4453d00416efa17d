"""A plate in the hands of a slicer: what belongs together stays together when it sets prints out.

Checked against PrusaSlicer, which arranges on its own accord, where it is on the path. A print's
outermost bead lies half its width inside the model's outline.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import zipfile
from pathlib import Path

import numpy as np
import pytest

from springgeo.api import Spring
from springgeo.files.formats.threemf_package import MODEL
from springgeo.files.publish.bundle import export_bundle
from springgeo.prototype import Options, prototype
from tests.fittings.springs import spring as fitted
from tests.springs import kept

# mm: width of a bead as the slicer's defaults have it, and what rounding and layers cost
BEAD, NEAR = 0.45, 0.25
SLICER = shutil.which("prusa-slicer")


def plates() -> dict[str, Spring]:
    return {
        "dummy": kept("gate-latch"),
        "swivel": fitted("coned-swivel-eye", "full-twisted-loop"),
        "plug": fitted("threaded-plug", "full-twisted-loop"),
    }


def written(name: str, target: Path) -> np.ndarray:
    spring = plates()[name]
    plate = prototype(spring.model, Options(dummy=name == "dummy", gap=0.6))
    target.write_bytes(plate.threemf(spring.summary()))
    return plate.box[1] - plate.box[0]


def model(path: Path) -> str:
    with zipfile.ZipFile(path) as archive:
        return archive.read(MODEL).decode()


@pytest.mark.parametrize("name", ["dummy", "swivel", "plug"])
def test_a_print_is_one_mesh(name, tmp_path):
    written(name, tmp_path / "a.3mf")
    text = model(tmp_path / "a.3mf")
    assert (text.count("<object "), text.count("<mesh>"), text.count("<item ")) == (1, 1, 1)
    assert "<component" not in text


def test_a_fitted_spring_is_one_mesh_in_its_3mf_file(tmp_path):
    spring = fitted("coned-swivel-eye", "full-twisted-loop")
    export_bundle(spring.model, tmp_path, formats=["3mf"])
    (target,) = tmp_path.glob("*.3mf")
    assert model(target).count("<mesh>") == 1


def test_beads(tmp_path):
    code = "G1 X9 Y9 F1\n;TYPE:External perimeter\nG1 Z.2\nG1 X1 Y2 E1\nG1 X4 E1\nG1 X7\n"
    (tmp_path / "a.gcode").write_text(code + ";TYPE:Skirt\nG1 X99 E1\n")
    assert beads(tmp_path / "a.gcode") == pytest.approx([8.0, 7.0])


@pytest.mark.slow
@pytest.mark.skipif(SLICER is None, reason="prusa-slicer is not installed")
@pytest.mark.parametrize("name", ["dummy", "swivel", "plug"])
def test_the_slicers_plate_is_ours(name, tmp_path):
    size = written(name, tmp_path / "a.3mf")
    words = ["--export-gcode", "--skirts", "0", "-o", "a.gcode", "a.3mf"]
    subprocess.run([SLICER, *words], cwd=tmp_path, check=True, capture_output=True, timeout=600)
    assert beads(tmp_path / "a.gcode") + BEAD == pytest.approx(size[:2], abs=NEAR)


def beads(path: Path) -> np.ndarray:
    """Return the width and depth of the outer walls in a file of G-code, mm."""
    wall, at, found = False, {"X": 0.0, "Y": 0.0}, []
    for line in path.read_text().splitlines():
        if line.startswith(";TYPE:"):
            wall = line[6:] in ("External perimeter", "Overhang perimeter")
        if not line.startswith("G1 "):
            continue
        words = dict(re.findall(r"([XYE])(-?[\d.]+)", line.split(";")[0]))
        before = tuple(at.values())
        at |= {k: float(words[k]) for k in at if k in words}
        if wall and float(words.get("E", 0)) > 0 and ("X" in words or "Y" in words):
            found += [before, tuple(at.values())]
    points = np.array(found)
    return points.max(axis=0) - points.min(axis=0)
