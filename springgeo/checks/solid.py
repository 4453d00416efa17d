"""Builds the solid and checks it: valid, volume, tube, and free length against its box."""

from __future__ import annotations

import math

from OCP.TopoDS import TopoDS_Shape, TopoDS_Solid

from springgeo.checks.centreline import solid_length
from springgeo.solid import exact_box, is_valid, surface_deviation, tube_solid, volume
from springgeo.spring.model import SpringModel
from springgeo.summary.model import Check

VOLUME = 1e-6
LENGTH = 1e-5
TUBE = 1e-6


def checked_solid(model: SpringModel) -> tuple[TopoDS_Solid, tuple[Check, ...], float]:
    """Return (solid, its checks, free length read off its exact box in mm)."""
    g = model.geometry
    solid = tube_solid(g.path, g.diameter / 2)
    length = solid_length(g, exact_box(solid))
    deviation = surface_deviation(solid, g.path, g.diameter / 2)
    checks = (
        valid_check("solid-valid", solid, "one closed valid solid by the kernel's analyser"),
        volume_check("solid-volume", solid, model),
        _check(
            "free-length",
            abs(length - g.length) / g.diameter,
            LENGTH,
            "d",
            "closed-form free length against the solid's exact bounding box",
        ),
        _check(
            "tube",
            deviation / g.diameter,
            TUBE,
            "d",
            "sampled surface points against the exact tube",
        ),
    )
    return solid, checks, length


def valid_check(name: str, shape: TopoDS_Shape, what: str) -> Check:
    """Return whether the kernel finds the shape valid; value 0 means it does."""
    ok = is_valid(shape)
    return Check(name=name, value=0.0 if ok else 1.0, bound=0.0, unit="", ok=ok, what=what)


def volume_check(name: str, shape: TopoDS_Shape, model: SpringModel) -> Check:
    """Return the solid's volume against π d²/4 times the wire length."""
    g = model.geometry
    exact = math.pi * g.diameter**2 / 4 * g.path.length
    return _check(
        name,
        abs(volume(shape) / exact - 1),
        VOLUME,
        "",
        "volume against pi d^2/4 times the wire length",
    )


def _check(name: str, value: float, bound: float, unit: str, what: str) -> Check:
    return Check(name=name, value=value, bound=bound, unit=unit, ok=value <= bound, what=what)
