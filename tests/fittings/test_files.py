"""Fitted ends in files: several named solids, read back by the kernel, trimesh and ourselves."""

from __future__ import annotations

from pathlib import Path

import cadquery as cq
import pytest
import trimesh

from springgeo.files.inspection import inspect_here
from springgeo.files.publish.bundle import export_bundle
from springgeo.files.publish.detail import Detail
from tests.gate import thinned

from .springs import FITTED, spring

FORMATS = ("step", "stl", "3mf", "glb", "brep", "obj", "ply", "json")


@pytest.mark.parametrize("style", FITTED)
def test_every_format(style: str, tmp_path: Path) -> None:
    s = spring(style, "machine-half-loop", coils=4)
    g = s.model.geometry
    bundle = s.build(tmp_path, formats=FORMATS)
    files = {f.suffix[1:]: f for f in bundle.files}
    assert all(c.ok for c in bundle.summary.checks)
    for kind in ("step", "stl", "3mf", "glb"):
        assert inspect_here(files[kind]).matches, kind
    step = cq.importers.importStep(str(files["step"]))
    brep = cq.Shape.importBrep(str(files["brep"]))
    for solids in (step.solids().vals(), brep.Solids()):
        assert len(solids) == 2
        assert sum(x.Volume() for x in solids) == pytest.approx(g.volume, rel=1e-6)
    for kind in ("stl", "obj", "ply"):
        mesh = trimesh.load(files[kind], force="mesh")
        assert mesh.is_watertight
        assert len(mesh.split()) == 2
    names = set(trimesh.load(files["glb"]).geometry)
    assert names == {"wire", g.parts[0].name}
    text = files["step"].read_text(encoding="ascii")
    assert f"'{g.parts[0].name}'" in text


@pytest.mark.parametrize("style", thinned(3, FITTED))
def test_the_same_bytes_twice(style: str, tmp_path: Path) -> None:
    made = spring(style, "machine-half-loop", coils=4)
    one = made.build(tmp_path / "1", formats=FORMATS).files
    two = export_bundle(made.model, tmp_path / "2", formats=FORMATS).files
    for a, b in zip(one, two, strict=True):
        assert a.read_bytes() == b.read_bytes(), a.name


@pytest.mark.parametrize(("style", "detail"), thinned(2, FITTED, ["light", "envelope"]))
def test_a_light_loaded_state(style: str, detail: Detail, tmp_path: Path) -> None:
    from springgeo.files.publish.bundle import NamedState
    from springgeo.files.publish.exporter import StateFacts

    s = spring(style, coils=4)
    state = s.at(load=15)
    shown = NamedState(StateFacts("15N", 15.0, state.length), state.geometry)
    bundle = export_bundle(
        s.model,
        tmp_path,
        formats=("stl", "step"),
        states=[shown],
        detail=detail,
        summary=s.summary(),
    )
    for file in bundle.files:
        if file.suffix in (".stl", ".step"):
            assert inspect_here(file).matches, file.name
