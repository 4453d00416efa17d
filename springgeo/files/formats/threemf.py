"""3MF: triangles in mm for printing, with the summary as an attachment."""

from __future__ import annotations

from pathlib import Path

from springgeo.files.formats.threemf_package import Item, package
from springgeo.files.publish.exporter import Exporter, ExportJob, data_text

SUMMARY, SHAPE = "springgeo-summary.json", "springgeo-shape.json"


def write(target: Path, job: ExportJob) -> None:
    """Write the mesh and everything known about it."""
    s = job.summary
    words = [f"extension spring, {s.geometry.free_length:.6g} mm inside hooks when free"]
    words += [job.caption] if job.caption else []
    metadata = {
        "Title": s.name,
        "Description": "; ".join([*words, *s.cautions]),
        "Application": "springgeo",
    }
    attachments = {SUMMARY: s.json_text(None), SHAPE: data_text(job.mesh_facts())}
    target.write_bytes(package([Item(job.stem, job.meshes)], metadata, attachments))


EXPORTER = Exporter("3mf", "3mf", "triangles for printing, with all data, 3MF, mm", write)
