"""A list of what was published together: written last, with a hash of every file."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from pathlib import Path

from springgeo.files.publish.exporter import Exporter, ExportJob
from springgeo.results.summary import Summary
from springgeo.text.json_value import Json

SCHEMA = "springgeo-manifest/1"
NAME = "manifest.json"


def manifest_text(
    stage: Path,
    written: Sequence[tuple[str, Exporter, ExportJob]],
    summary: Summary,
    summary_file: str,
) -> str:
    """Return the manifest of files in ``stage`` as JSON, ASCII, the same for the same files."""
    return json.dumps(
        {
            "schema_version": SCHEMA,
            "name": summary.name,
            "summary": summary_file,
            "summary_digest": summary.digest(),
            "files": [
                {"file": name, "format": exporter.name, **_shape(exporter, job)}
                | _hash(stage / name)
                for name, exporter, job in written
            ]
            + [{"file": summary_file, "format": "json"} | _hash(stage / summary_file)],
        },
        indent=2,
        ensure_ascii=True,
        allow_nan=False,
    )


def _shape(exporter: Exporter, job: ExportJob) -> dict[str, Json]:
    if exporter.elements or (exporter.exact and job.detail == "envelope"):
        return {"state": job.state.name}
    return {"shape": job.tube_facts() if exporter.exact else job.mesh_facts()}


def _hash(path: Path) -> dict[str, Json]:
    data = path.read_bytes()
    return {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}


def contradicted(folder: Path, stage: Path) -> bool:
    """Return whether a manifest of ours in ``folder`` lists a file that ``stage`` changes."""
    try:
        known = json.loads((folder / NAME).read_text(encoding="ascii"))
        if known["schema_version"] != SCHEMA:
            return False
        listed = {entry["file"]: entry["sha256"] for entry in known["files"]}
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return False
    new = [p for p in stage.iterdir() if p.name in listed]
    return any(_hash(p)["sha256"] != listed[p.name] for p in new)
