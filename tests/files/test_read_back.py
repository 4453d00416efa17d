"""A STEP file is read back as it stands: what the kernel would mend in silence is an error."""

from __future__ import annotations

import re

import pytest

from springgeo.files.publish.exporter import ExportJob, StateFacts
from springgeo.files.step.read import read_step
from springgeo.files.step.spring import step_check, write_step_summary
from springgeo.solid import volume


@pytest.fixture
def job(spring):
    facts = StateFacts("free", 0.0, spring.model.geometry.length)
    return ExportJob(spring.model, spring.summary(), "a", facts)


def turned(text: str) -> str:
    """Return a file's text with every face the other way round."""
    faces = re.compile(r"(ADVANCED_FACE\([^;]*,\.)([TF])(\.\);)")
    assert len(faces.findall(text)) > 5
    return faces.sub(lambda m: m[1] + ("F" if m[2] == "T" else "T") + m[3], text)


def test_a_solid_that_faces_inward_fails_though_the_kernel_would_turn_it(tmp_path, job) -> None:
    path = tmp_path / "a.step"
    write_step_summary(path, job)
    assert step_check(path, job).ok
    path.write_text(turned(path.read_text("ascii")), "ascii")
    # whoever opens a file of others sees it turned
    assert volume(read_step(path).shape, 1e-3) > 0
    assert not step_check(path, job).ok
