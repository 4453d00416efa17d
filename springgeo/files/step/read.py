"""A STEP file back: its shape, and every value that was embedded in it."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.StepBasic import StepBasic_Product
from OCP.STEPControl import STEPControl_Reader
from OCP.StepData import StepData_StepModel
from OCP.TopoDS import TopoDS_Shape

from springgeo.errors import FileError
from springgeo.files.step.anchors import entities_of
from springgeo.files.step.attributes import Attribute, read_attributes
from springgeo.files.step.session import quiet_kernel
from springgeo.files.step.text import unescape


@dataclass(frozen=True, eq=False)
class StepContent:
    """What a file holds; ``shape`` is a compound where the file has several parts."""

    shape: TopoDS_Shape
    product: str
    description: str
    attributes: dict[str, Attribute]


def read_step(path: str | os.PathLike[str]) -> StepContent:
    """Return the content of a STEP file; lengths are converted to mm.

    Raises
    ------
    FileError
        The file is missing, is no STEP file, or holds no shape.
    """
    place = Path(path)
    if not place.is_file():
        raise FileError(f"cannot read {place}: no such file")
    with quiet_kernel():
        reader = STEPControl_Reader()
        if reader.ReadFile(str(place)) != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise FileError(f"cannot read {place}: it is not a STEP file")
        reader.TransferRoots()
        shape = reader.OneShape()
        if shape is None or shape.IsNull():
            raise FileError(f"cannot read {place}: it holds no shape")
        model = reader.StepModel()
        entities = entities_of(model)
        attributes = read_attributes(entities)
        return StepContent(shape, _product(entities), _description(model), attributes)


def _product(entities: Iterable[object]) -> str:
    product = next((e for e in entities if isinstance(e, StepBasic_Product)), None)
    return "" if product is None else unescape(product.Name().ToCString())


def _description(model: StepData_StepModel) -> str:
    header = APIHeaderSection_MakeHeader(model)
    lines = [header.DescriptionValue(i + 1).ToCString() for i in range(header.NbDescription())]
    return unescape("".join(lines))
