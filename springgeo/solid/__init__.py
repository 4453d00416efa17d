"""The centreline as a true solid in the CAD kernel, and exact measurements of it.

The one reader of the centreline that imports the kernel: ``import springgeo.solid`` is slow.
"""

from springgeo.solid.deviation import surface_deviation
from springgeo.solid.faces import Faces
from springgeo.solid.fitting import part_solid
from springgeo.solid.measure import area, centroid, exact_box, exact_heights, properties, volume
from springgeo.solid.strips import face_starts
from springgeo.solid.tube import tube_solid
from springgeo.solid.tube_properties import SolidProperties, tube_properties
from springgeo.solid.validity import is_closed, is_valid, solids

__all__ = [
    "Faces",
    "SolidProperties",
    "area",
    "centroid",
    "exact_box",
    "exact_heights",
    "face_starts",
    "is_closed",
    "is_valid",
    "part_solid",
    "properties",
    "solids",
    "surface_deviation",
    "tube_properties",
    "tube_solid",
    "volume",
]
