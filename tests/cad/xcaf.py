"""What another program sees in a STEP file: the kernel's own exchange reader, part by part."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label, TDF_LabelSequence
from OCP.TDocStd import TDocStd_Document
from OCP.TopoDS import TopoDS_Shape
from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

from springgeo.files.step.session import quiet_kernel


class Component(NamedTuple):
    name: str
    shape: TopoDS_Shape
    colour: tuple[float, float, float] | None


def read_parts(path: Path) -> tuple[str, list[Component]]:
    """Name of the one product at the top, and its components in their order."""
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    with quiet_kernel():
        reader.ReadFile(str(path))
        reader.Transfer(document)
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    top = TDF_LabelSequence()
    tool.GetFreeShapes(top)
    assert top.Length() == 1
    parts = TDF_LabelSequence()
    XCAFDoc_ShapeTool.GetComponents_s(top.Value(1), parts)
    found = []
    for i in range(1, parts.Length() + 1):
        shape, product = XCAFDoc_ShapeTool.GetShape_s(parts.Value(i)), TDF_Label()
        XCAFDoc_ShapeTool.GetReferredShape_s(parts.Value(i), product)
        colour = Quantity_Color()
        seen = colours.GetColor_s(product, XCAFDoc_ColorType.XCAFDoc_ColorSurf, colour)
        rgb = colour.Values(Quantity_TypeOfColor.Quantity_TOC_sRGB) if seen else None
        found.append(Component(_name(parts.Value(i)), shape, rgb))
    return _name(top.Value(1)), found


def _name(label: TDF_Label) -> str:
    name = TDataStd_Name()
    return str(name.Get().ToExtString()) if label.FindAttribute(name.GetID_s(), name) else ""
