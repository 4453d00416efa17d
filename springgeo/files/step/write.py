"""A solid with its data as a STEP file (AP242): small, complete, and the same bytes every time."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_StepModelType
from OCP.StepData import StepData_StepModel
from OCP.StepRepr import StepRepr_NextAssemblyUsageOccurrence
from OCP.StepShape import StepShape_ManifoldSolidBrep

from springgeo.errors import FileError
from springgeo.files.step.anchors import anchors, entities_of
from springgeo.files.step.attributes import Attribute, add_attributes
from springgeo.files.step.colours import add_colour
from springgeo.files.step.dimension.model import Dimension
from springgeo.files.step.dimension.write import add_dimensions
from springgeo.files.step.document import StepPart, exchange_document
from springgeo.files.step.frames import add_frames
from springgeo.files.step.material import StepMaterial, add_material
from springgeo.files.step.part21 import Entities, append
from springgeo.files.step.session import kernel_settings, quiet_kernel
from springgeo.files.step.shared import share_equal
from springgeo.files.step.text import kernel_text
from springgeo.fit.frames import MateFrame
from springgeo.publish.atomic import plain_target, staged

__all__ = ["Attribute", "Dimension", "MateFrame", "StepMaterial", "StepPart", "write_step"]

_SETTINGS = {"write.step.schema": "AP242DIS", "write.step.unit": "MM"}
# the file says nothing of when or where it was made, so that equal springs are equal files
_TIME = "2000-01-01T00:00:00"
_END = b"END-ISO-10303-21;"


def write_step(
    target: str | os.PathLike[str],
    parts: Sequence[StepPart],
    *,
    product: str,
    description: str,
    attributes: Mapping[str, Attribute],
    frames: Mapping[str, MateFrame] | None = None,
    material: StepMaterial | None = None,
    dimensions: Sequence[Dimension] = (),
) -> None:
    """Write parts and their data to ``target``; equal input gives an equal file.

    Parameters
    ----------
    parts : sequence of StepPart
        One becomes the product itself; several become an assembly.
    product, description : str
        Name of the product, and what the file's header says of it.
    attributes : mapping of str to Attribute
        Become user-defined attributes of the product, in this order.
    frames : mapping of str to (origin mm, x, z), optional
        Become named placements; without effect on the geometry.
    material : StepMaterial, optional
    dimensions : sequence of Dimension, optional
        Of the first part, to its faces or to the frames.

    Raises
    ------
    FileError
        The file cannot be written; nothing is left behind.
    ValueError
        An attribute cannot be expressed, or there is no part.
    """
    if not parts:
        raise ValueError("a STEP file needs at least one part")
    place = plain_target(target)
    with staged(place.parent) as stage, quiet_kernel(), kernel_settings(_SETTINGS):
        aside = stage / place.name
        writer = STEPCAFControl_Writer()
        writer.SetMaterialMode(False)
        writer.SetLayerMode(False)
        writer.SetColorMode(False)
        document = exchange_document(parts, product)
        if not writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs):
            raise FileError(f"cannot write {place.name}: the kernel cannot express the shape")
        model = writer.ChangeWriter().Model()
        entities = entities_of(model)
        _name_parts(entities, parts)
        _set_header(model, product, description)
        at = anchors(entities, len(parts))
        more = Entities(at.next)
        for part, anchor in zip(parts, at.parts, strict=True):
            add_colour(more, anchor, part.colour)
        placements = add_frames(more, at, frames or {})
        add_dimensions(more, at, placements, dimensions)
        add_attributes(more, at, attributes)
        if material is not None:
            add_material(more, at, material)
        status = writer.Write(str(aside))
        done = status == IFSelect_ReturnStatus.IFSelect_RetDone and _complete(aside)
        if done:
            share_equal(aside)
            done = append(aside, more)
        if not done or not _complete(aside):
            raise FileError(f"cannot write {place.name}: the file came out incomplete (disk full?)")


def _name_parts(entities: Sequence[object], parts: Sequence[StepPart]) -> None:
    solids = (e for e in entities if isinstance(e, StepShape_ManifoldSolidBrep))
    for solid, part in zip(solids, parts, strict=False):
        solid.SetName(kernel_text(part.name))
    if len(parts) == 1:
        return
    # the kernel numbers occurrences by a counter of the whole process
    uses = (e for e in entities if isinstance(e, StepRepr_NextAssemblyUsageOccurrence))
    for i, (use, part) in enumerate(zip(uses, parts, strict=False), 1):
        use.SetId(kernel_text(str(i)))
        use.SetName(kernel_text(part.name))


def _set_header(model: StepData_StepModel, name: str, description: str) -> None:
    header = APIHeaderSection_MakeHeader(model)
    header.SetName(kernel_text(name))
    header.SetTimeStamp(kernel_text(_TIME))
    header.SetAuthorValue(1, kernel_text(""))
    header.SetOrganizationValue(1, kernel_text(""))
    header.SetAuthorisation(kernel_text(""))
    header.SetOriginatingSystem(kernel_text("springgeo"))
    header.SetDescriptionValue(1, kernel_text(description))
    header.Apply(model)


def _complete(path: Path) -> bool:
    with path.open("rb") as file:
        file.seek(max(0, path.stat().st_size - 64))
        return _END in file.read()
