"""Parts that an end holds beside the wire: what they are, without any kernel or mesh."""

from springgeo.fittings.outline import in_sheet, plate_hole, plate_rim
from springgeo.fittings.part import Part
from springgeo.fittings.plate import Plate
from springgeo.fittings.turned import Turned

__all__ = ["Part", "Plate", "Turned", "in_sheet", "plate_hole", "plate_rim"]
