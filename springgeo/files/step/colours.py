"""Colours and names of the solids of a STEP file, in the order of the parts.

The kernel's own colour writer goes through a table ordered by memory addresses, so that two
equal assemblies would not be equal files.
"""

from __future__ import annotations

from OCP.StepData import StepData_StepModel
from OCP.StepRepr import StepRepr_HArray1OfRepresentationItem
from OCP.StepShape import StepShape_AdvancedBrepShapeRepresentation, StepShape_ManifoldSolidBrep
from OCP.StepVisual import (
    StepVisual_ColourRgb,
    StepVisual_FillAreaStyle,
    StepVisual_FillAreaStyleColour,
    StepVisual_FillStyleSelect,
    StepVisual_HArray1OfFillStyleSelect,
    StepVisual_HArray1OfPresentationStyleAssignment,
    StepVisual_HArray1OfPresentationStyleSelect,
    StepVisual_HArray1OfSurfaceStyleElementSelect,
    StepVisual_MechanicalDesignGeometricPresentationRepresentation,
    StepVisual_PresentationStyleAssignment,
    StepVisual_PresentationStyleSelect,
    StepVisual_StyledItem,
    StepVisual_SurfaceSide,
    StepVisual_SurfaceSideStyle,
    StepVisual_SurfaceStyleElementSelect,
    StepVisual_SurfaceStyleFillArea,
    StepVisual_SurfaceStyleUsage,
)

from springgeo.files.step.document import StepPart
from springgeo.files.step.text import kernel_text


def dress(
    model: StepData_StepModel, shape: StepShape_AdvancedBrepShapeRepresentation, part: StepPart
) -> None:
    """Give every solid of a part's representation the name and colour of the part."""
    items = [shape.ItemsValue(i + 1) for i in range(shape.NbItems())]
    solids = [item for item in items if isinstance(item, StepShape_ManifoldSolidBrep)]
    styled = StepRepr_HArray1OfRepresentationItem(1, len(solids))
    style = _style(part.colour)
    for i, solid in enumerate(solids, 1):
        solid.SetName(kernel_text(part.name))
        item = StepVisual_StyledItem()
        item.Init(kernel_text("color"), style, solid)
        item.SetItem(solid)  # what Init makes of it is not written
        styled.SetValue(i, item)
    view = StepVisual_MechanicalDesignGeometricPresentationRepresentation()
    view.Init(kernel_text(""), styled, shape.ContextOfItems())
    model.AddWithRefs(view)


def _style(
    colour: tuple[float, float, float],
) -> StepVisual_HArray1OfPresentationStyleAssignment:
    """Return the chain from a colour to what a styled item wants: both sides, plain fill."""
    use = StepVisual_SurfaceStyleUsage()
    use.Init(StepVisual_SurfaceSide.StepVisual_ssBoth, _side(_fill(colour)))
    choice = StepVisual_PresentationStyleSelect()
    choice.SetValue(use)
    choices = StepVisual_HArray1OfPresentationStyleSelect(1, 1)
    choices.SetValue(1, choice)
    assignment = StepVisual_PresentationStyleAssignment()
    assignment.Init(choices)
    assignments = StepVisual_HArray1OfPresentationStyleAssignment(1, 1)
    assignments.SetValue(1, assignment)
    return assignments


def _side(fill: StepVisual_FillAreaStyle) -> StepVisual_SurfaceSideStyle:
    area = StepVisual_SurfaceStyleFillArea()
    area.Init(fill)
    element = StepVisual_SurfaceStyleElementSelect()
    element.SetValue(area)
    elements = StepVisual_HArray1OfSurfaceStyleElementSelect(1, 1)
    elements.SetValue(1, element)
    side = StepVisual_SurfaceSideStyle()
    side.Init(kernel_text(""), elements)
    return side


def _fill(colour: tuple[float, float, float]) -> StepVisual_FillAreaStyle:
    rgb, filled = StepVisual_ColourRgb(), StepVisual_FillAreaStyleColour()
    rgb.Init(kernel_text(""), *map(float, colour))
    filled.Init(kernel_text(""), rgb)
    choice = StepVisual_FillStyleSelect()
    choice.SetValue(filled)
    choices = StepVisual_HArray1OfFillStyleSelect(1, 1)
    choices.SetValue(1, choice)
    fill = StepVisual_FillAreaStyle()
    fill.Init(kernel_text(""), choices)
    return fill
