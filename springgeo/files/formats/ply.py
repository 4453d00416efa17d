"""PLY through trimesh: triangles in mm, binary."""

from __future__ import annotations

from pathlib import Path

from springgeo.files.publish.exporter import Exporter, ExportJob


def write(target: Path, job: ExportJob) -> None:
    """Write the mesh; a comment names the spring and the digest of its summary."""
    from trimesh.exchange.ply import export_ply

    first, second, rest = export_ply(job.mesh.trimesh(), include_attributes=False).split(b"\n", 2)
    comment = (
        f"comment springgeo {job.stem} unit=mm summary={job.summary.digest()} no load on prints"
    )
    target.write_bytes(b"\n".join([first, second, comment.encode("ascii"), rest]))


EXPORTER = Exporter("ply", "ply", "triangles, binary PLY, mm", write)
