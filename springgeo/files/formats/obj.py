"""Wavefront OBJ through trimesh: triangles in mm."""

from __future__ import annotations

from pathlib import Path

from springgeo.files.publish.exporter import Exporter, ExportJob


def write(target: Path, job: ExportJob) -> None:
    """Write the mesh; the first line names the spring and the digest of its summary."""
    from trimesh.exchange.obj import export_obj

    header = f"springgeo {job.stem} unit=mm summary={job.summary.digest()} no load on prints"
    text = export_obj(job.mesh.trimesh(), include_normals=False, header=header, digits=6)
    target.write_text(text + "\n", encoding="ascii")


EXPORTER = Exporter("obj", "obj", "triangles, Wavefront OBJ, mm", write)
