"""Builds the solid and checks it: valid, volume, tube, and free length against its box."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from springgeo.checks.centreline import solid_length
from springgeo.checks.required import require
from springgeo.fittings import Part
from springgeo.results.verdict import Check
from springgeo.solid import (
    Faces,
    exact_heights,
    is_closed,
    part_solid,
    surface_deviation,
    tube_solid,
    volume,
)
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel

if TYPE_CHECKING:
    from OCP.TopoDS import TopoDS_Shape

VOLUME = 1e-6
LENGTH = 1e-5
TUBE = 1e-6


def sound_solid(geometry: Geometry) -> Faces:
    """Return the wire's solid, whole and of the right volume; raises BuildError."""
    faces = Faces.of(tube_solid(geometry.path, geometry.wire_diameter / 2))
    require(_sound(faces, geometry))
    return faces


def checked_solid(model: SpringModel) -> tuple[Faces, tuple[Check, ...], float]:
    """Return (solid, its checks, free length read off its exact box in mm)."""
    g = model.geometry
    faces = Faces.of(tube_solid(g.path, g.wire_diameter / 2))
    solid = faces.shape
    parts = [(part, part_solid(part)) for part in g.parts]
    heights = np.array([exact_heights(s) for s in (solid, *(shape for _, shape in parts))])
    length = solid_length(g, float(heights[:, 1].max() - heights[:, 0].min()))
    deviation = surface_deviation(faces, g.path, g.wire_diameter / 2)
    checks: tuple[Check, ...] = (
        *_sound(faces, g),
        _check(
            "free-length",
            abs(length - g.length) / g.wire_diameter,
            LENGTH,
            "d",
            "closed-form free length against the solid's exact bounding box",
        ),
        _check(
            "tube",
            deviation / g.wire_diameter,
            TUBE,
            "d",
            "sampled surface points against the exact tube",
        ),
    )
    for part, shape in parts:
        checks += (
            valid_check(f"part-valid-{part.name}", shape, "one closed valid solid"),
            part_volume_check(part, shape),
        )
    return faces, checks, length


def _sound(faces: Faces, g: Geometry) -> tuple[Check, Check]:
    """Return whether a wire's solid is valid, and its volume."""
    exact = math.pi * g.wire_diameter**2 / 4 * g.path.length
    return (
        valid_check("solid-valid", faces.shape, "one closed valid solid by the kernel's analyser"),
        volume_check("solid-volume", faces.shape, exact, faces),
    )


def valid_check(name: str, shape: TopoDS_Shape, what: str) -> Check:
    """Return whether the kernel finds the shape valid; value 0 means it does.

    That it faces outward is the volume's check: one turned inside out has a negative volume.
    """
    ok = is_closed(shape)
    return Check(name=name, value=0.0 if ok else 1.0, bound=0.0, unit="", ok=ok, what=what)


def volume_check(name: str, shape: TopoDS_Shape, exact: float, faces: Faces | None = None) -> Check:
    """Return the wire solid's volume against the ``exact`` one, mm³.

    Its ``faces``, where they have been read already.
    """
    return _check(
        name,
        _volume_off(shape, exact, faces or Faces.of(shape)),
        VOLUME,
        "",
        "volume against pi d^2/4 times the wire length",
    )


def _volume_off(shape: TopoDS_Shape, exact: float, faces: Faces) -> float:
    """Return how far the volume is off the exact one, as a share of it.

    The integral over the faces takes polynomial ones to be whole; only a volume that seems wrong
    needs the kernel's own, which is slow.
    """
    off = abs(faces.volume / exact - 1)
    return off if off <= VOLUME else abs(volume(shape) / exact - 1)


def part_volume_check(part: Part, shape: TopoDS_Shape) -> Check:
    """Return a part's volume against its closed form."""
    check = volume_check(f"part-volume-{part.name}", shape, part.volume)
    return check.model_copy(update={"what": "volume against the closed form"})


def _check(name: str, value: float, bound: float, unit: str, what: str) -> Check:
    return Check(name=name, value=value, bound=bound, unit=unit, ok=value <= bound, what=what)
