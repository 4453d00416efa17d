"""The tube as a solid: valid, and right in surface, volume, area, centroid and box."""

import math
from itertools import pairwise

import numpy as np
import pytest
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
from OCP.Geom import (
    Geom_BSplineSurface,
    Geom_Circle,
    Geom_CylindricalSurface,
    Geom_Plane,
    Geom_ToroidalSurface,
)
from OCP.gp import gp_Pnt
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

from springgeo.curve import Arc, Blend, ConicalHelix, Helix, Line, Path, Piece, tube_box
from springgeo.curve.frame import vector
from springgeo.errors import BuildError
from springgeo.solid import (
    area,
    centroid,
    exact_box,
    is_valid,
    surface_deviation,
    tube_properties,
    tube_solid,
    volume,
)

CASES = [
    {},
    {"left": True},
    {"backward": True},
    {"crossing": True},
    {"crossing": True, "left": True, "backward": True},
    {"turns": 0.3},
    {"turns": 7.013},
    {"d": 0.05, "C": 8.0},
    {"d": 0.05, "C": 3.0, "crossing": True},
    {"d": 0.05, "C": 25.0, "left": True},
    {"d": 20.0, "C": 3.0},
    {"d": 20.0, "C": 25.0, "crossing": True, "left": True},
]


def check(solid, path, d):
    r = d / 2
    exact = tube_properties(path, r)
    assert is_valid(solid)
    assert surface_deviation(solid, path, r, 24) < 1e-6 * d
    assert abs(volume(solid) / exact.volume - 1) < 1e-7
    assert exact.volume == pytest.approx(math.pi * r * r * path.length, rel=1e-14)
    assert abs(area(solid) / exact.area - 1) < 1e-7
    assert np.abs(centroid(solid) - exact.centroid).max() < 1e-6 * d
    assert np.abs(exact_box(solid) - tube_box(path, r)).max() < 1e-5 * d


@pytest.mark.parametrize("case", CASES, ids=str)
def test_spring(make_spring, case):
    path, d = make_spring(**case), case.get("d", 1.0)
    check(tube_solid(path, d / 2), path, d)


def test_two_hundred_coils(make_spring):
    path = make_spring(turns=200.0)
    solid = tube_solid(path, 0.5)
    assert is_valid(solid)
    assert surface_deviation(solid, path, 0.5, 4) < 1e-7
    assert abs(volume(solid, 1e-7) / tube_properties(path, 0.5).volume - 1) < 1e-7


ODD = {
    "line": Line(span=3.0),
    "full turn but little": Arc(radius=2.0, angle=6.1),
    "short arc": Arc(radius=2.0, angle=0.01),
    "sliver of helix": Helix(radius=4.0, pitch=1.0, turns=0.004),
    "cone": ConicalHelix(radius=5.0, end_radius=3.0, pitch=1.3, turns=3.0),
    "blend": Blend.joining(
        (vector(0, 0, 0), vector(1, 0, 0), vector(0, 0.3, 0)),
        (vector(6, 4, 3), vector(0, 0, 1), vector(0.1, 0, 0)),
        8.0,
    ),
}


@pytest.mark.parametrize("name", ODD)
@pytest.mark.parametrize("mirrored", [False, True])
def test_single_segments(name, mirrored):
    path = Path([Piece(ODD[name], "x", "straight")])
    if mirrored:
        path = path.moved(np.diag([-1.0, 1.0, 1.0]), vector(1, 2, 3)).reversed()
    check(tube_solid(path, 0.5), path, 1.0)


def surfaces(solid):
    explorer, found = TopExp_Explorer(solid, TopAbs_ShapeEnum.TopAbs_FACE), []
    while explorer.More():
        found.append(BRep_Tool.Surface_s(TopoDS.Face_s(explorer.Current())))
        explorer.Next()
    return found


def test_each_segment_has_its_own_kind_of_surface(make_spring):
    found = surfaces(tube_solid(make_spring(turns=4.0), 0.5))
    kinds = [Geom_ToroidalSurface, Geom_CylindricalSurface, Geom_BSplineSurface]
    assert [sum(isinstance(s, k) for s in found) for k in kinds] == [2, 2, 6]
    assert isinstance(found[-1], Geom_Plane)
    # four turns are four faces, each bend is one; a loop of 5.2 rad is two
    crossing = surfaces(tube_solid(make_spring(turns=4.0, crossing=True), 0.5))
    assert sum(isinstance(s, Geom_ToroidalSurface) for s in crossing) == 6


def test_neighbouring_faces_meet_smoothly(make_spring):
    """Normals of two faces at a shared cross-section agree, from the surfaces' derivatives."""
    from OCP.GeomLProp import GeomLProp_SLProps

    found = [
        s
        for s in surfaces(tube_solid(make_spring(turns=4.0), 0.5))
        if isinstance(s, Geom_BSplineSurface)
    ]
    for a, b in pairwise(found):
        normal_a = GeomLProp_SLProps(a, 1.0, 1.0, 1, 1e-9).Normal()
        normal_b = GeomLProp_SLProps(b, 1.0, 0.0, 1, 1e-9).Normal()
        assert normal_a.Angle(normal_b) < 1e-5


def test_distance_by_the_kernel(make_spring):
    """From points at known distances off the wire, independent of how the faces are made."""
    path = make_spring(turns=2.0)
    solid = tube_solid(path, 0.5)
    for share in (0.02, 0.07, 0.5, 0.97):
        s = np.array([share * path.length])
        outward = path.point(s)[0] + 1.25 * path.normal(s)[0]
        vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(*outward)).Vertex()
        assert BRepExtrema_DistShapeShape(vertex, solid).Value() == pytest.approx(0.75, abs=1e-7)


def test_a_cut_loses_nothing(make_spring):
    solid = tube_solid(make_spring(turns=3.0), 0.5)
    box = BRepPrimAPI_MakeBox(gp_Pnt(0.013, -20, -20), gp_Pnt(20, 20, 20)).Shape()
    cut, common = BRepAlgoAPI_Cut(solid, box).Shape(), BRepAlgoAPI_Common(solid, box).Shape()
    assert volume(cut) + volume(common) == pytest.approx(volume(solid), rel=1e-7)


def test_a_loop_as_tight_as_the_wire_is_no_torus():
    path = Path([Piece(Arc(radius=0.5, angle=1.0), "x", "loop")])
    assert not any(isinstance(s, Geom_ToroidalSurface) for s in surfaces(tube_solid(path, 0.5)))


def test_a_kink_is_refused():
    sharp = Blend.joining(
        (vector(0, 0, 0), vector(1, 0, 0), vector(0, 0, 0)),
        (vector(0.0, 1e-7, 0), vector(-1, 0, 0), vector(0, 0, 0)),
        5.0,
    )
    with pytest.raises(BuildError, match="too sharply"):
        tube_solid(Path([Piece(sharp, "x", "bend")]), 0.5)


def test_validity_sees_an_open_or_inverted_shape(make_spring):
    solid = tube_solid(make_spring(turns=1.0), 0.5)
    assert not is_valid(solid.Reversed())
    assert not is_valid(TopExp_Explorer(solid, TopAbs_ShapeEnum.TopAbs_SHELL).Current())


def test_deviation_sees_a_wrong_radius(make_spring):
    path = make_spring(turns=1.0)
    assert surface_deviation(tube_solid(path, 0.5), path, 0.501) == pytest.approx(1e-3, rel=1e-3)


def test_deviation_needs_a_tube():
    path = Path([Piece(Line(span=1.0), "x", "straight")])
    with pytest.raises(ValueError, match="closed round"):
        surface_deviation(BRepPrimAPI_MakeBox(1, 1, 1).Shape(), path, 0.5)


def test_a_circle_on_a_spline_face_ends_where_its_edge_does(make_spring):
    """On an endless line a reader searches for the edge's middle, at great length."""
    solid = tube_solid(make_spring(crossing=True), 0.5)
    faces, rings = TopExp_Explorer(solid, TopAbs_ShapeEnum.TopAbs_FACE), 0
    while faces.More():
        face = TopoDS.Face_s(faces.Current())
        edges = TopExp_Explorer(face, TopAbs_ShapeEnum.TopAbs_EDGE)
        spline = isinstance(BRep_Tool.Surface_s(face), Geom_BSplineSurface)
        while edges.More() and spline:
            edge = TopoDS.Edge_s(edges.Current())
            if isinstance(BRep_Tool.Curve_s(edge, 0.0, 0.0), Geom_Circle):
                line = BRep_Tool.CurveOnSurface_s(edge, face, 0.0, 0.0)
                whole = BRepAdaptor_Curve(edge)
                assert line.FirstParameter() == whole.FirstParameter()
                assert line.LastParameter() == whole.LastParameter()
                rings += 1
            edges.Next()
        faces.Next()
    assert rings >= 8
