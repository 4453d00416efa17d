"""Named mate frames in a STEP file: placements beside the geometry, ignored by who needs none."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from springgeo.curve.frame import Array
from springgeo.files.step.anchors import Anchors
from springgeo.files.step.part21 import Entities, listed, real, string
from springgeo.fit.frames import MateFrame


class Placements(NamedTuple):
    """References to the placements by name, and to the representation that holds them."""

    representation: str
    items: dict[str, str]


def add_frames(entities: Entities, at: Anchors, frames: Mapping[str, MateFrame]) -> Placements:
    """Add named placements, tied to the representation of the shape."""
    if not frames:
        return Placements("", {})
    items = {name: _placement(entities, name, frame) for name, frame in frames.items()}
    title = "'supplemental geometry'"
    words = f"{title},{listed(items.values())},{at.context}"
    supplement = entities.add(f"CONSTRUCTIVE_GEOMETRY_REPRESENTATION({words})")
    kind = "CONSTRUCTIVE_GEOMETRY_REPRESENTATION_RELATIONSHIP"
    entities.add(f"{kind}({title},'',{at.representation},{supplement})")
    return Placements(supplement, items)


def _placement(entities: Entities, name: str, frame: MateFrame) -> str:
    origin, x, z = (np.asarray(v, dtype=float) for v in frame)
    point = entities.add(f"CARTESIAN_POINT('',{_triple(origin)})")
    along, across = (
        entities.add(f"DIRECTION('',{_triple(v / np.linalg.norm(v))})") for v in (z, x)
    )
    return entities.add(f"AXIS2_PLACEMENT_3D({string(name)},{point},{along},{across})")


def _triple(v: Array) -> str:
    # a negative zero would make equal frames unequal bytes
    return listed(real(x + 0.0) for x in v.tolist())
