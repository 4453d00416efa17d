"""Parts as the kernel's exchange document: names, validation properties, assembly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.gp import gp_Pnt
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Shape
from OCP.XCAFDoc import (
    XCAFDoc_Area,
    XCAFDoc_Centroid,
    XCAFDoc_DocumentTool,
    XCAFDoc_ShapeTool,
    XCAFDoc_Volume,
)

from springgeo.files.step.text import escape
from springgeo.solid.measure import properties
from springgeo.solid.tube_properties import SolidProperties


@dataclass(frozen=True, eq=False)
class StepPart:
    """One solid of the file.

    ``colour`` is red, green, blue, 0 to 1, sRGB; ``properties`` are what a reader shall check the
    solid against: measured on the shape (a second for a hundred coils) unless given, as
    ``tube_properties`` of the centreline gives it at once.
    """

    name: str
    shape: TopoDS_Shape
    colour: tuple[float, float, float] = (0.62, 0.64, 0.67)
    properties: SolidProperties | None = None


def exchange_document(parts: Sequence[StepPart], product: str) -> TDocStd_Document:
    """Return a document with one product, or an assembly of several parts under that name."""
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    XCAFDoc_ShapeTool.SetAutoNaming_s(False)
    if len(parts) == 1:
        _name(_add(tool, parts[0]), product)
        return document
    whole = tool.NewShape()
    _name(whole, product)
    for part in parts:
        label = _add(tool, part)
        _name(label, part.name)
        _name(tool.AddComponent(whole, label, TopLoc_Location()), part.name)
    tool.UpdateAssemblies()
    return document


def _add(tool: XCAFDoc_ShapeTool, part: StepPart) -> TDF_Label:
    shape = _baked(part.shape)
    label = tool.AddShape(shape, False)
    known = part.properties or properties(shape, 1e-7)
    XCAFDoc_Volume.Set_s(label, known.volume)
    XCAFDoc_Area.Set_s(label, known.area)
    XCAFDoc_Centroid.Set_s(label, gp_Pnt(*map(float, known.centroid)))
    return label


def _baked(shape: TopoDS_Shape) -> TopoDS_Shape:
    """Return the shape with its placement worked into the geometry; otherwise names are lost."""
    place = shape.Location()
    if place.IsIdentity():
        return shape
    bare = shape.Located(TopLoc_Location())
    return BRepBuilderAPI_Transform(bare, place.Transformation(), True).Shape()


def _name(label: TDF_Label, name: str) -> None:
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(escape(name)))
