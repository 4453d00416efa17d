"""Binary STL: triangles in mm, name, digest of the summary and a caution in the header."""

from __future__ import annotations

from pathlib import Path

from springgeo.files.publish.exporter import Exporter, ExportJob
from springgeo.mesh.stl import stl_bytes
from springgeo.summary import Summary


def write(target: Path, job: ExportJob) -> None:
    """Write the mesh."""
    target.write_bytes(stl_bytes(job.mesh, stl_header(job.stem, job.summary)))


def stl_header(stem: str, summary: Summary) -> str:
    """Return the 80 characters an STL has for words: name, unit, digest, and a caution."""
    return f"springgeo {stem[:19]} unit=mm summary={summary.digest()} no load on prints"


EXPORTER = Exporter("stl", "stl", "triangles for printing and viewing, binary STL, mm", write)
