"""Is a shape one sound solid: what the kernel's own analyser sees, and what it leaves out."""

from __future__ import annotations

from OCP.BRep import BRep_Tool
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS_Shape

from springgeo.solid.measure import volume


def is_valid(shape: TopoDS_Shape) -> bool:
    """Return whether the shape is exactly one solid, closed, consistent and facing outward.

    A wire that passes through itself is not noticed: that is a question for the centreline.
    """
    # for the sign alone a rough volume will do
    return is_closed(shape) and volume(shape, 0.1) > 0.0


def is_closed(shape: TopoDS_Shape) -> bool:
    """Return whether the shape is exactly one solid, closed and consistent.

    Which way it faces is left to whoever compares its signed volume anyway.
    """
    shells = _parts(shape, TopAbs_ShapeEnum.TopAbs_SHELL)
    if len(solids(shape)) != 1 or len(shells) != 1 or not BRep_Tool.IsClosed_s(shells[0]):
        return False
    return bool(BRepCheck_Analyzer(shape).IsValid())


def solids(shape: TopoDS_Shape) -> list[TopoDS_Shape]:
    """Return every solid in a shape."""
    return _parts(shape, TopAbs_ShapeEnum.TopAbs_SOLID)


def _parts(shape: TopoDS_Shape, kind: TopAbs_ShapeEnum) -> list[TopoDS_Shape]:
    explorer = TopExp_Explorer(shape, kind)
    found = []
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found
