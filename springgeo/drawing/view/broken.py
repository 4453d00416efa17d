"""A long body drawn broken: fewer coils, a gap between two wavy lines, the dimensions true.

Whole coils are left out, so that both ends stand as they do on the spring.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from springgeo.curve.frame import Array
from springgeo.drawing.view.silhouette import Silhouette
from springgeo.ends.protocol import BodyEnd
from springgeo.optional import need
from springgeo.spring.geometry import Geometry, assemble

MOST_COILS, SHOWN_COILS = 60.0, 24
_GAP = 1.6  # between the wavy lines, in wire diameters
_WAVE, _OVER = 0.08, 0.08  # height of the waves and their reach beyond the body, in its diameters


class Break(NamedTuple):
    """What is left out: ``coils``, their length ``skip``, and where on the shown axis; mm."""

    coils: int
    skip: float
    at: float


NONE = Break(0, 0.0, 0.0)


@lru_cache(maxsize=8)
def shown_geometry(geometry: Geometry) -> tuple[Geometry, Break]:
    """Return the spring to draw, and what it leaves out: nothing up to 60 coils."""
    g = geometry
    if g.turns <= MOST_COILS:
        return g, NONE
    out = int(g.turns) - SHOWN_COILS
    short = assemble(
        BodyEnd(g.wire_diameter, g.coil_radius, g.pitch), g.turns - out, g.hand, g.first, g.second
    )
    return short, Break(out, out * g.pitch, short.first.hook_length + short.body_length / 2)


def broken(seen: Silhouette, geometry: Geometry, at: float) -> tuple[Silhouette, tuple[Array, ...]]:
    """Return a side view with a gap in its body, and the two wavy lines ``(n, 2) float, mm``."""
    shapely = need("shapely", "a drawing", "drawing")
    reach = geometry.coil_radius + geometry.wire_diameter / 2
    y = np.linspace(-1.0 - 2 * _OVER, 1.0 + 2 * _OVER, 61) * reach
    wave = 2 * _WAVE * reach * np.sin(np.pi * y / reach)
    half = _GAP * geometry.wire_diameter / 2
    edges = tuple(np.column_stack([at + side * half + wave, y]) for side in (-1.0, 1.0))
    strip = shapely.polygons(np.concatenate([edges[0], edges[1][::-1]]))
    lines = [
        shapely.get_coordinates(part)
        for line in seen.lines
        for part in shapely.get_parts(shapely.linestrings(line).difference(strip))
        if not part.is_empty
    ]
    return replace(seen, lines=tuple(lines)), edges
