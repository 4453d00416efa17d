"""Parts that an end holds beside the wire: what they are, without any kernel or mesh."""

from springgeo.fittings.part import Part
from springgeo.fittings.plate import Plate
from springgeo.fittings.turned import Turned

__all__ = ["Part", "Plate", "Turned"]
