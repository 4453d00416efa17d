"""The summary as a JSON file of its own, ASCII."""

from __future__ import annotations

from pathlib import Path

from springgeo.files.publish.exporter import Exporter, ExportJob


def write(target: Path, job: ExportJob) -> None:
    """Write the summary, whatever the state."""
    target.write_text(job.summary.json_text() + "\n", encoding="ascii")


EXPORTER = Exporter("json", "json", "summary of everything computed, JSON", write)
