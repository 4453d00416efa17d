"""The edges of parts as points, for whoever draws them flat."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.fittings.plate import Plate

_HALF = 33  # points on half a circle


def plate_rim(plate: Plate) -> Array:
    """Return the outer edge of a plate as a ring ``(n, 2) float, mm`` of (x, z), not closed."""
    t = np.linspace(0.0, np.pi, _HALF)[1:-1]
    end = plate.radius * np.column_stack([np.cos(t), np.sin(t)]) + [0.0, plate.centre]
    return np.concatenate([np.array(plate.right), end, np.array(plate.left)[::-1]])


def plate_hole(plate: Plate) -> Array:
    """Return the edge of a plate's hole as a ring ``(n, 2) float, mm`` of (x, z), not closed."""
    t = np.linspace(0.0, 2 * np.pi, 2 * _HALF, endpoint=False)
    ring: Array = plate.hole * np.column_stack([np.cos(t), np.sin(t)]) + [0.0, plate.centre]
    return ring


def in_sheet(ring: Array, y: float) -> Array:
    """Return points ``(n, 3) float, mm`` of a plate's own frame: a ring at depth ``y``."""
    return np.column_stack([ring[:, 0], np.full(len(ring), y), ring[:, 1]])
