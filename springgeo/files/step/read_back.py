"""A spring's STEP file read back from its text, against the solids it was written from.

The kernel would take ten times as long to read it, and then finds what it wrote; what is done to
its text after that (``shared``, ``part21``) is found here as well.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from springgeo.files.publish.exporter import ExportJob
from springgeo.files.step.attributes import Attribute, joined
from springgeo.files.step.face_numbers import solid_faces
from springgeo.files.step.said import Face, NotSaidError, Said
from springgeo.files.step.spring import KEY
from springgeo.results.verdict import Check
from springgeo.solid import Faces

# by how much numbers may differ, as a share of the greatest: the kernel writes 13 digits
WRITTEN = 1e-12


def step_check(path: Path, job: ExportJob) -> Check:
    """Read a STEP file's text back: whole, the solids' own faces, closed, the same summary."""
    shapes = job.faces, *map(Faces.of, job.parts.values())
    off, why = 1.0, ""
    try:
        said = Said(path.read_text("ascii"))
        off = _off(list(said.solids()), [list(solid_faces(shape)) for shape in shapes])
        if _words(said).get(KEY) != job.summary_text:
            off, why = 1.0, "; its summary is another"
    except NotSaidError as exc:
        why = f"; {exc}"
    return Check(
        name="step-read-back",
        value=off,
        bound=WRITTEN,
        unit="",
        ok=off <= WRITTEN,
        what=f"closed faces, their numbers against the solid's, and the same summary{why}",
    )


def _words(said: Said) -> dict[str, object]:
    found = {name: Attribute(text) for name, text in said.words()}
    return {name: whole.value for name, whole in joined(found).items()}


def _off(said: list[tuple[Face, ...]], built: list[list[Face]]) -> float:
    """Return by how much numbers differ, as a share of the greatest; 1 where faces do."""
    if [len(x) for x in said] != [len(x) for x in built]:
        return 1.0
    pairs = [(a, b) for x, y in zip(said, built, strict=True) for a, b in zip(x, y, strict=True)]
    if any(a.kind != b.kind or a.along != b.along for a, b in pairs):
        return 1.0
    if any(a.numbers.shape != b.numbers.shape for a, b in pairs):
        return 1.0
    one, other = (np.concatenate([p[i].numbers for p in pairs]) for i in (0, 1))
    return float(np.abs(one - other).max() / max(1.0, np.abs(other).max()))
