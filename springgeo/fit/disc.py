"""The flat cut at the end of a wire: its exact distance from an obstacle."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.fit.obstacles import Obstacle

_SIDE = 9
_ROUNDS = 24


def disc_distance(
    obstacle: Obstacle, centre: Array, normal: Array, radius: float
) -> tuple[float, Array]:
    """Return the least signed distance of a disc, mm, and the point ``(3,)`` where it is.

    A grid over the disc's square is pressed onto the disc and narrowed round the best node. The
    distance from a convex obstacle is convex over the disc, so this cannot miss.
    """
    aside = np.eye(3)[int(np.argmin(np.abs(normal)))]
    u = np.cross(normal, aside)
    u /= np.linalg.norm(u)
    axes = np.array([u, np.cross(normal, u)])
    ticks = np.linspace(-1.0, 1.0, _SIDE)
    grid = np.column_stack([a.ravel() for a in np.meshgrid(ticks, ticks)])
    middle, half = np.zeros(2), radius
    best, place = np.inf, centre
    for _ in range(_ROUNDS):
        flat = middle + half * grid
        size = np.linalg.norm(flat, axis=1)
        flat = flat * np.minimum(1.0, radius / np.maximum(size, 1e-300))[:, None]
        point = centre + flat @ axes
        value = obstacle.distance(point)
        i = int(np.argmin(value))
        if value[i] <= best:
            best, place, middle = float(value[i]), point[i], flat[i]
        half *= 0.5
    return best, place
