"""A specimen's solid where it lies, written as STEP by the kernel's plain writer and read again."""

from __future__ import annotations

import tempfile
from pathlib import Path

from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.gp import gp_Trsf
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.STEPControl import STEPControl_StepModelType, STEPControl_Writer

from springgeo.files.step.session import quiet_kernel
from springgeo.files.surface import Surface, read_surface
from springgeo.solid import tube_solid
from tests.recover.specimens import Specimen


def step_surface(of: Specimen) -> Surface:
    """Return the surface as it is read from a STEP file of the specimen's solid."""
    g, there = of.model.geometry, gp_Trsf()
    rows = [(*a, float(o)) for a, o in zip(of.axes.tolist(), of.origin, strict=True)]
    there.SetValues(*(x for row in rows for x in row))
    shape = BRepBuilderAPI_Transform(tube_solid(g.path, g.wire_diameter / 2), there, True).Shape()
    with tempfile.TemporaryDirectory() as folder, quiet_kernel():
        path = Path(folder) / "part.step"
        writer = STEPControl_Writer()
        writer.Transfer(shape, STEPControl_StepModelType.STEPControl_AsIs)
        assert writer.Write(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone
        return read_surface(path)
