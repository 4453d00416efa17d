"""How a mating section mounts a spring: what turning its ends are left, its pins, the weight."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array, unit
from springgeo.curve.motion import least_rotation
from springgeo.ends.protocol import Turning
from springgeo.equilibrium.mounted.mounting import Mounting, wire_weight
from springgeo.fit.seat import end_frame, pin_direction
from springgeo.specification.end_names import SIDES, Side
from springgeo.specification.mating import EndMate, Mating
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel

_LEVEL = np.array([-1.0, 0.0, 0.0])


def turning(model: SpringModel, mating: Mating) -> tuple[Turning, Turning]:
    """Return what turning a mating section leaves either end."""
    a, b = (
        own if mate is None or mate.holding is None else mate.holding
        for own, mate in zip(model.turning, (mating.first, mating.second), strict=True)
    )
    return a, b


def mounting(model: SpringModel, mating: Mating, how: tuple[Turning, Turning]) -> Mounting:
    """Return where pins stand, and what weighs, by a mating section and the turning it leaves."""
    g = model.geometry
    a, b = (
        _turned(g, side, mate, turns)
        for side, mate, turns in zip(SIDES, (mating.first, mating.second), how, strict=True)
    )
    weight = np.zeros(3)
    if mating.down is not None:
        down = _LEVEL if mating.down == "level" else unit(np.array(mating.down, dtype=float))
        weight = wire_weight(g.wire_diameter, model.material.density, down)
    return Mounting(np.array([*(mating.offset or (0.0, 0.0)), 0.0]), a, b, weight)


def _turned(g: Geometry, side: Side, mate: EndMate | None, how: Turning) -> Array:
    """Return the least turn of an end that lays it across its pin, if that holds it."""
    frame = end_frame(g, side)
    if how == "free" or mate is None or mate.pin is None or frame is None:
        return np.eye(3)
    across, pin = frame.axes[:, 1], frame.turn(pin_direction(mate.pin))
    pin = pin if float(across @ pin) >= 0 else -pin
    return least_rotation(across, pin)
