"""The kernel's own text format: the exact solid and nothing else."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from springgeo.errors import FileError
from springgeo.files.publish.exporter import Exporter, ExportJob
from springgeo.process import closed_stdout

if TYPE_CHECKING:
    from OCP.TopoDS import TopoDS_Shape


def write(target: Path, job: ExportJob) -> None:
    """Write the exact solid."""
    from OCP.BRepTools import BRepTools

    shape = _shape(job)
    with closed_stdout():
        written = BRepTools.Write_s(shape, str(target))
    if not written:
        raise FileError(f"cannot write {target.name}: the file came out incomplete (disk full?)")


def _shape(job: ExportJob) -> TopoDS_Shape:
    """Return the wire's solid, or a compound of it and the parts of fitted ends."""
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Compound

    if not job.parts:
        return job.solid
    builder, whole = BRep_Builder(), TopoDS_Compound()
    builder.MakeCompound(whole)
    for shape in (job.solid, *job.parts.values()):
        builder.Add(whole, shape)
    return whole


EXPORTER = Exporter("brep", "brep", "exact solid, the kernel's own text format", write, exact=True)
