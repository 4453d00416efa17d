"""The parts of fitted ends as solids: turned, with a bent rod, or cut from sheet."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeSolid,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Sewing,
    BRepBuilderAPI_Transform,
)
from OCP.BRepLib import BRepLib
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax1, gp_Ax2, gp_Circ, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Face, TopoDS_Shape, TopoDS_Solid, TopoDS_Wire

from springgeo.errors import BuildError
from springgeo.fittings import Part, Plate, Turned
from springgeo.solid.tube import tube_solid

_UP = gp_Dir(0.0, 0.0, 1.0)
_ORIGIN = gp_Pnt(0.0, 0.0, 0.0)


def part_solid(part: Part) -> TopoDS_Solid:
    """Return a part as one valid solid in the spring's frame.

    Raises
    ------
    BuildError
        The kernel cannot join the part's pieces to one solid.
    """
    form = part.form
    own = _turned(form) if isinstance(form, Turned) else _plate(form)
    return _only_solid(part, _placed(part, own))


def _placed(part: Part, shape: TopoDS_Shape) -> TopoDS_Shape:
    move = gp_Trsf()
    rows = np.column_stack([part.axes, part.origin])
    move.SetValues(*rows.ravel().tolist())
    return BRepBuilderAPI_Transform(shape, move, True).Shape()


def _turned(form: Turned) -> TopoDS_Shape:
    """Return the profile turned; a rod's faces are sewn to the rim in place of the upper disc.

    Sewn and not fused: after a boolean the kernel takes a piece of a torus for the whole one.
    """
    about = gp_Ax1(_ORIGIN, _UP)
    points = [gp_Pnt(r, 0.0, z) for r, z in ((0.0, form.profile[0][1]), *form.profile)]
    if form.rod is None:
        outline = _line([*points, gp_Pnt(0.0, 0.0, form.profile[-1][1]), points[0]])
        return BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(outline, True).Face(), about).Shape()
    sewing = BRepBuilderAPI_Sewing(1e-6)
    sewing.Add(BRepPrimAPI_MakeRevol(_line(points), about).Shape())
    for face in _faces_beyond_start(tube_solid(form.rod, form.rod_radius)):
        sewing.Add(face)
    sewing.Perform()
    solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell_s(sewing.SewedShape())).Solid()
    BRepLib.OrientClosedSolid_s(solid)
    return solid


def _faces_beyond_start(tube: TopoDS_Solid) -> list[TopoDS_Shape]:
    """Return a tube's faces without the flat one at its start, the last but one it was given."""
    explorer, faces = TopExp_Explorer(tube, TopAbs_ShapeEnum.TopAbs_FACE), []
    while explorer.More():
        faces.append(explorer.Current())
        explorer.Next()
    return [*faces[:-2], faces[-1]]


def _plate(form: Plate) -> TopoDS_Shape:
    half = form.thickness / 2
    face = BRepBuilderAPI_MakeFace(_outline(form), True)
    # the outline runs about -y, the hole about +y: an inner wire is run against the outer one
    axis = gp_Ax2(gp_Pnt(0.0, -half, form.centre), gp_Dir(0.0, 1.0, 0.0))
    hole = BRepBuilderAPI_MakeEdge(gp_Circ(axis, form.hole)).Edge()
    rim = BRepBuilderAPI_MakeWire(hole).Wire()
    sheet: TopoDS_Face = BRepBuilderAPI_MakeFace(face.Face(), rim).Face()
    return BRepPrimAPI_MakePrism(sheet, gp_Vec(0.0, form.thickness, 0.0)).Shape()


def _outline(form: Plate) -> TopoDS_Wire:
    y = -form.thickness / 2
    ends = [gp_Pnt(x, y, z) for x, z in (*reversed(form.left), *form.right)]
    top = gp_Pnt(0.0, y, form.centre + form.radius)
    arc = GC_MakeArcOfCircle(ends[-1], top, ends[0]).Value()
    make = BRepBuilderAPI_MakeWire(_line(ends))
    make.Add(BRepBuilderAPI_MakeEdge(arc).Edge())
    return make.Wire()


def _line(points: list[gp_Pnt]) -> TopoDS_Wire:
    """Return straight edges from point to point, in the same place or not."""
    make = BRepBuilderAPI_MakeWire()
    for a, b in pairwise(points):
        if a.Distance(b) > 1e-9:
            make.Add(BRepBuilderAPI_MakeEdge(a, b).Edge())
    return make.Wire()


def _only_solid(part: Part, shape: TopoDS_Shape) -> TopoDS_Solid:
    found = []
    explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_SOLID)
    while explorer.More():
        found.append(TopoDS.Solid_s(explorer.Current()))
        explorer.Next()
    if len(found) != 1:
        raise BuildError(f"the {part.name} came out as {len(found)} solids, not one")
    return found[0]
