"""Colours of the solids of a STEP file, in the order of the parts.

The kernel's own colour writer goes through a table ordered by memory addresses, so that two
equal assemblies would not be equal files.
"""

from __future__ import annotations

from springgeo.files.step.anchors import PartAnchor
from springgeo.files.step.part21 import Entities, listed, real


def add_colour(entities: Entities, part: PartAnchor, colour: tuple[float, float, float]) -> None:
    """Give the solid of a part a colour: sRGB 0..1, both sides, plain fill."""
    rgb = entities.add(f"COLOUR_RGB('',{','.join(map(real, colour))})")
    fill = entities.add(f"FILL_AREA_STYLE_COLOUR('',{rgb})")
    fill = entities.add(f"FILL_AREA_STYLE('',({fill}))")
    side = entities.add(f"SURFACE_STYLE_FILL_AREA({fill})")
    side = entities.add(f"SURFACE_SIDE_STYLE('',({side}))")
    style = entities.add(f"SURFACE_STYLE_USAGE(.BOTH.,{side})")
    style = entities.add(f"PRESENTATION_STYLE_ASSIGNMENT({listed([style])})")
    item = entities.add(f"STYLED_ITEM('color',({style}),{part.solid})")
    kind = "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION"
    entities.add(f"{kind}('',({item}),{part.context})")
