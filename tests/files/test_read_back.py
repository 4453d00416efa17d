"""A STEP file is read back as it stands: what is not the solid's own is found, whatever it is."""

from __future__ import annotations

import re

import pytest

from springgeo.api import Spring
from springgeo.errors import BuildError
from springgeo.files.publish.exporter import ExportJob, StateFacts
from springgeo.files.step.read import read_step
from springgeo.files.step.read_back import step_check
from springgeo.files.step.spring import write_step_summary
from springgeo.solid import volume
from tests.files.conftest import SPEC
from tests.fittings.springs import FITTED
from tests.fittings.springs import spring as fitted_spring


def job_of(spring) -> ExportJob:
    facts = StateFacts("free", 0.0, spring.model.geometry.length)
    return ExportJob(spring.model, spring.summary(), "a", facts)


@pytest.fixture
def job(spring) -> ExportJob:
    return job_of(spring)


def turned(text: str) -> str:
    """Return a file's text with every face the other way round."""
    faces = re.compile(r"(ADVANCED_FACE\([^;]*,\.)([TF])(\.\);)")
    assert len(faces.findall(text)) > 5
    return faces.sub(lambda m: m[1] + ("F" if m[2] == "T" else "T") + m[3], text)


def once(pattern: str, instead: str):
    """Return what changes one place of a text, in its middle."""

    def changed(text: str) -> str:
        found = [*re.finditer(pattern, text)]
        at = found[len(found) // 2]
        return text[: at.start()] + at.expand(instead) + text[at.end() :]

    return changed


def a_face_less(text: str) -> str:
    return once(r"(CLOSED_SHELL\('',\(#\d+),#\d+", r"\1")(text)


BAD = {
    "turned": (turned, ""),
    "cut short": (lambda text: text[: len(text) // 2], "ends early"),
    "a statement less": (once(r"\n#\d+=CARTESIAN_POINT[^\n]*", ""), "does not say that"),
    "a statement twice": (once(r"\n(#\d+=CARTESIAN_POINT[^\n]*)", r"\n\1\n\1"), "a number twice"),
    "a face less": (a_face_less, "do not close"),
    "an edge turned": (once(r"(ORIENTED_EDGE\([^;]*)\.F\.", r"\1.T."), "do not close"),
    "another radius": (once(r"(TOROIDAL_SURFACE\('',#\d+,)\d", r"\g<1>9"), ""),
    "a loop of another bound": (once(r"(FACE_BOUND\('',#\d+,)\.T\.", r"\1.F."), "do not close"),
    "another summary": (
        once(r"(ITEM\('springgeo-summary#2','.{9}).", r"\1~"),
        "its summary is another",
    ),
}


@pytest.mark.parametrize("case", BAD)
def test_what_is_not_the_solids_own_is_found(tmp_path, job, case) -> None:
    change, why = BAD[case]
    path = tmp_path / "a.step"
    write_step_summary(path, job)
    assert step_check(path, job).ok
    path.write_text(change(path.read_text("ascii")), "ascii")
    found = step_check(path, job)
    assert not found.ok
    assert why in found.what


def test_a_control_point_off_by_a_nanometre_is_found(tmp_path, job) -> None:
    path = tmp_path / "a.step"
    write_step_summary(path, job)
    text = path.read_text("ascii")
    surface = re.search(r"B_SPLINE_SURFACE_WITH_KNOTS\('',\d+,\d+,\(\((#\d+)", text)
    point = re.search(rf"\n{surface[1]}=CARTESIAN_POINT\('',\(([^,]*)", text)
    moved = f"{float(point[1]) + 1e-6:.12f}"
    path.write_text(text[: point.start(1)] + moved + text[point.end(1) :], "ascii")
    assert not step_check(path, job).ok


def test_the_kernel_would_turn_a_solid_that_faces_inward(tmp_path, job) -> None:
    """Why the text is held against the solid: whoever opens it sees it turned."""
    path = tmp_path / "a.step"
    write_step_summary(path, job)
    path.write_text(turned(path.read_text("ascii")), "ascii")
    assert volume(read_step(path).shape, 1e-3) > 0


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("style", FITTED)
def test_parts_of_fitted_ends_are_looked_at_as_well(tmp_path, style, hand) -> None:
    job = job_of(fitted_spring(style, "v-hook", coils=4.3, hand=hand))
    path = tmp_path / "a.step"
    write_step_summary(path, job)
    assert step_check(path, job).ok
    text = path.read_text("ascii")
    shells = [*re.finditer(r"CLOSED_SHELL\('',\(#\d+(,#\d+)", text)]
    assert len(shells) == 2
    last = shells[-1]
    path.write_text(text[: last.start(1)] + text[last.end(1) :], "ascii")
    assert not step_check(path, job).ok


def test_the_solid_of_a_loaded_state_is_checked_before_it_is_written(
    spring, tmp_path, monkeypatch
) -> None:
    monkeypatch.setattr("springgeo.checks.solid.is_closed", lambda _: False)
    job = ExportJob(spring.model, spring.summary(), "a", StateFacts("pulled", 10.0, 30.0))
    with pytest.raises(BuildError, match="solid-valid"):
        write_step_summary(tmp_path / "a.step", job)


@pytest.mark.parametrize(
    "name", [";" * 180, "; #12 = CARTESIAN_POINT('',(0.,0.,0.)) " * 4, "#1=; ENDSEC; DATA; " * 9]
)
def test_a_name_may_look_like_statements(name, tmp_path) -> None:
    """The kernel breaks long names into lines, which may end in a semicolon."""
    made = Spring.from_dict({**SPEC, "name": name[:200]})
    found = made.build(tmp_path, formats=["step"])
    assert read_step(found.files[0]).product == name[:200].strip()
