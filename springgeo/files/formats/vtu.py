"""VTU (unstructured grid of VTK) through meshio: the wire in elements, mm."""

from __future__ import annotations

from pathlib import Path

from springgeo.files.formats.meshed import write_mesh
from springgeo.files.publish.exporter import Exporter, ExportJob


def write(target: Path, job: ExportJob) -> None:
    """Write the elements; ``part`` and ``arc_length``, mm, are data of the cells."""
    write_mesh(target, job, "vtu")


EXPORTER = Exporter("vtu", "vtu", "finite elements for viewing, VTU, mm", write, elements=True)
