"""MSH 2.2 through meshio: the wire in elements, its parts and surface as physical groups, mm."""

from __future__ import annotations

from pathlib import Path

from springgeo.files.formats.meshed import write_mesh
from springgeo.files.publish.exporter import Exporter, ExportJob


def write(target: Path, job: ExportJob) -> None:
    """Write the elements, in text."""
    write_mesh(target, job, "gmsh22", binary=False)


EXPORTER = Exporter(
    "msh", "msh", "finite elements with physical groups, MSH 2.2, mm", write, elements=True
)
