"""STEP (AP242): the exact solid with its summary as user-defined attributes."""

from __future__ import annotations

from pathlib import Path

from springgeo.checks.required import require
from springgeo.files.publish.exporter import Exporter, ExportJob


def write(target: Path, job: ExportJob) -> None:
    """Write the solid, read the file back and compare."""
    from springgeo.files.step.read_back import step_check
    from springgeo.files.step.spring import write_step_summary

    write_step_summary(target, job)
    if job.detail != "envelope":
        require((step_check(target, job),))


EXPORTER = Exporter("step", "step", "exact solid with all data, STEP AP242", write, exact=True)
