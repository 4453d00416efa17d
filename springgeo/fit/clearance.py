"""How far the wire's surface is from an obstacle, and where: our own exact distance.

Stations on the centreline give a coarse distance; those that a chord's length could still bring
below the best one are narrowed down together. The tube's surface lies d/2 nearer than its
centreline wherever the least distance falls inside the wire; at a cut end the flat disc is
measured instead. Where only some pieces are asked for, their inner limits count as round ends.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.fit.disc import disc_distance
from springgeo.fit.obstacles import Obstacle
from springgeo.fit.wire import Wire

Index = npt.NDArray[np.intp]

_KEEP = 8
_NODES = np.linspace(-1.0, 1.0, 17)
_ROUNDS = 2


@dataclass(frozen=True)
class Clearance:
    """Distance from the wire's surface to an obstacle, mm; negative: they overlap.

    ``label`` names the piece of wire, ``s`` is the arc length there, ``point`` lies on the
    centreline (on the flat cut, at an end of the wire).
    """

    distance: float
    label: str
    s: float
    point: tuple[float, float, float]


def clearance(wire: Wire, obstacle: Obstacle) -> Clearance:
    """Return the least distance between the surface of a wire and an obstacle."""
    s, value, point = _stationary(wire, obstacle)
    tips = wire.tips
    for tip in tips:
        value = np.where(np.abs(s - tip) <= 1e-9 * wire.path.length, np.inf, value)
    i = int(np.argmin(value))
    best = (float(value[i]) - wire.radius, float(s[i]), point[i])
    for tip in tips:
        at = np.array([tip])
        centre = wire.path.point(at)
        if float(obstacle.distance(centre)[0]) - wire.radius < best[0]:
            distance, place = disc_distance(
                obstacle, centre[0], wire.path.tangent(at)[0], wire.radius
            )
            best = min(best, (distance, tip, place), key=lambda c: c[0])
    x, y, z = map(float, best[2])
    return Clearance(best[0], wire.label(best[1]), best[1], (x, y, z))


def _stationary(wire: Wire, obstacle: Obstacle) -> tuple[Array, Array, Array]:
    """Return arc lengths ``(m,)``, centreline distances and points of the local minima."""
    f = obstacle.distance(wire.point)
    lowest = f <= np.minimum(np.roll(f, 1), np.roll(f, -1)) + 1e-12
    edge = (wire.s == wire.low) | (wire.s == wire.high)
    # the distance changes by no more than the arc length: what lies higher cannot win
    within = f - (wire.high - wire.low) <= f.min()
    chosen = np.flatnonzero((lowest | edge) & within)
    chosen = chosen[np.argsort(f[chosen], kind="stable")[:_KEEP]]
    a, b, piece = wire.low[chosen], wire.high[chosen], wire.piece[chosen]
    middle, half = (a + b) / 2, (b - a) / 2
    rows = np.arange(len(middle))
    many = np.repeat(piece, len(_NODES))
    # inside an obstacle the depth has creases, which only halving finds
    for _ in range(_ROUNDS if f.min() > 0 else 4 * _ROUNDS):
        s = np.clip(middle[:, None] + half[:, None] * _NODES, a[:, None], b[:, None])
        value = obstacle.distance(wire.at(s.ravel(), many)).reshape(s.shape)
        best = np.argmin(value, axis=1)
        middle = s[rows, best]
        half = half / 8
    inner = np.clip(best, 1, len(_NODES) - 2)
    middle = np.where(best == inner, _vertex(s, value, rows, inner), middle)
    point = wire.at(middle, piece)
    return middle, np.minimum(obstacle.distance(point), value[rows, best]), point


def _vertex(s: Array, value: Array, rows: Index, inner: Index) -> Array:
    """Return the lowest point of the parabola through three neighbouring nodes of each row."""
    before, here, after = (value[rows, inner + k] for k in (-1, 0, 1))
    step = s[rows, inner + 1] - s[rows, inner]
    bend = before - 2 * here + after
    shift = np.where(bend > 1e-15, (before - after) / np.where(bend > 1e-15, 2 * bend, 1.0), 0.0)
    result: Array = s[rows, inner] + step * np.clip(shift, -1.0, 1.0)
    return result
