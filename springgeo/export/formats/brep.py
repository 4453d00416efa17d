"""The kernel's own text format: the exact solid and nothing else."""

from __future__ import annotations

from pathlib import Path

from springgeo.errors import FileError
from springgeo.export.exporter import Exporter, ExportJob


def write(target: Path, job: ExportJob) -> None:
    """Write the exact solid."""
    from OCP.BRepTools import BRepTools

    if not BRepTools.Write_s(job.solid, str(target)):
        raise FileError(f"cannot write {target.name}: the file came out incomplete (disk full?)")


EXPORTER = Exporter("brep", "brep", "exact solid, the kernel's own text format", write, exact=True)
