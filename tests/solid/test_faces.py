"""Faces as numbers against the kernel: their points, and the volume against closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest
from OCP.BRep import BRep_Tool
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_NurbsConvert
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

from springgeo.files.step.read import read_step
from springgeo.files.step.write import StepPart, write_step
from springgeo.solid import Faces, tube_properties, tube_solid, volume


def test_points_are_the_kernels(make_spring, tmp_path) -> None:
    """Also of surfaces that are periodic, as the kernel has them when it has read a file."""
    solid = tube_solid(make_spring(crossing=True), 0.5)
    write_step(
        tmp_path / "a.step", [StepPart("a", solid)], product="a", description="", attributes={}
    )
    read = read_step(tmp_path / "a.step").shape
    u, v = np.array([0.0, 0.3, 3.0, 6.2]), np.array([0.0, 0.31, 1.0])
    seen = set()
    for shape in (solid, read):
        for face, spline in Faces.of(shape).faces:
            if spline is None:
                continue
            surface = BRep_Tool.Surface_s(face)
            seen.add(surface.IsUPeriodic())
            kernel = [[surface.Value(a, b).Coord() for b in v.tolist()] for a in u.tolist()]
            assert np.abs(spline.points(u, v) - kernel).max() < 1e-12
    assert seen == {False, True}


@pytest.mark.parametrize(
    "case", [{}, {"crossing": True, "left": True}, {"d": 0.05, "C": 25.0}, {"turns": 40.0}], ids=str
)
def test_volume_is_that_of_the_tube_and_of_the_finest_integration(make_spring, case) -> None:
    path, radius = make_spring(**case), case.get("d", 1.0) / 2
    solid = tube_solid(path, radius)
    found = Faces.of(solid).volume
    # control points are rounded to 1e-8 mm, which is much of the thinnest wire
    assert found == pytest.approx(tube_properties(path, radius).volume, rel=1e-7)
    assert found == pytest.approx(volume(solid), rel=1e-8)
    assert Faces.of(solid.Reversed()).volume == pytest.approx(-found, rel=1e-12)


def test_a_surface_with_a_hole_in_it_is_left_to_the_kernel() -> None:
    box = BRepPrimAPI_MakeBox(4.0, 5.0, 6.0).Shape()
    axis = gp_Ax2(gp_Pnt(2.0, 2.0, -1.0), gp_Dir(0.0, 0.0, 1.0))
    drilled = BRepAlgoAPI_Cut(box, BRepPrimAPI_MakeCylinder(axis, 1.0, 9.0).Shape()).Shape()
    for shape, whole, true in ((box, 6, 120.0), (drilled, 4, 120.0 - 6.0 * math.pi)):
        found = Faces.of(BRepBuilderAPI_NurbsConvert(shape).Shape())
        assert sum(spline is not None for _, spline in found.faces) == whole
        assert found.volume == pytest.approx(true, rel=1e-6)


def test_half_a_surface_is_left_to_the_kernel() -> None:
    """A face that ends before its surface does is not the surface."""
    box = BRepBuilderAPI_NurbsConvert(BRepPrimAPI_MakeBox(4.0, 5.0, 6.0).Shape()).Shape()
    corner = BRepPrimAPI_MakeBox(gp_Pnt(2.0, -1.0, -1.0), gp_Pnt(5.0, 6.0, 7.0)).Shape()
    found = Faces.of(BRepAlgoAPI_Cut(box, corner).Shape())
    assert sum(spline is not None for _, spline in found.faces) < 5
    assert found.volume == pytest.approx(60.0, rel=1e-9)
