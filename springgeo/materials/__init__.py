"""Spring wire materials and sizes, each value with its source. Ground floor.

>>> from springgeo import materials
>>> round(materials.get("astm-a228").tensile(2.0).minimum)
1949
"""

from springgeo.materials.library import embedded, get, load, names, resolve, with_content
from springgeo.materials.model import Material
from springgeo.materials.tensile import Strength

__all__ = ["Material", "Strength", "embedded", "get", "load", "names", "resolve", "with_content"]
