"""Named mate frames in a STEP file: placements beside the geometry, ignored by who needs none."""

from __future__ import annotations

from collections.abc import Mapping

from OCP.GeomToStep import GeomToStep_MakeAxis2Placement3d
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.StepData import StepData_StepModel
from OCP.StepRepr import (
    StepRepr_ConstructiveGeometryRepresentation,
    StepRepr_ConstructiveGeometryRepresentationRelationship,
    StepRepr_HArray1OfRepresentationItem,
    StepRepr_Representation,
)

from springgeo.files.step.text import kernel_text
from springgeo.fit.frames import MateFrame


def add_frames(
    model: StepData_StepModel, shape: StepRepr_Representation, frames: Mapping[str, MateFrame]
) -> None:
    """Add named placements, tied to the representation of the shape."""
    if not frames:
        return
    items = StepRepr_HArray1OfRepresentationItem(1, len(frames))
    for i, (name, (origin, x, z)) in enumerate(frames.items(), 1):
        axes = gp_Ax2(gp_Pnt(*map(float, origin)), gp_Dir(*map(float, z)), gp_Dir(*map(float, x)))
        placement = GeomToStep_MakeAxis2Placement3d(axes).Value()
        placement.SetName(kernel_text(name))
        items.SetValue(i, placement)
    supplement = StepRepr_ConstructiveGeometryRepresentation()
    supplement.Init(kernel_text("supplemental geometry"), items, shape.ContextOfItems())
    link = StepRepr_ConstructiveGeometryRepresentationRelationship()
    link.Init(kernel_text("supplemental geometry"), kernel_text(""), shape, supplement)
    model.AddWithRefs(link)
