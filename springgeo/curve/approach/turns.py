"""How near neighbouring turns of loaded coils come to each other."""

from __future__ import annotations

import numpy as np

from springgeo.curve.path import Path

# places to a turn that are looked at, and where the next turn is looked for, in circumferences
# of the circle of curvature
_PLACES, _ABOUT = 24, (0.5, 1.3)
_LOOKS, _ROUNDS = 33, 6


def turn_approach(path: Path, start: float, length: float) -> tuple[float, float, float] | None:
    """Return the least distance, mm, of places about one turn apart, and their arc lengths.

    On the wire from ``start`` for ``length`` mm: the nearest of 24 places to a turn, each to the
    point of the next turn that is nearest to it. None on less than a turn.
    """
    middle = path.curvature(np.array([start + length / 2]))[0]
    turn = 2 * np.pi / float(np.sqrt(middle @ middle))
    low, high = _ABOUT[0] * turn, _ABOUT[1] * turn
    s = start + np.arange(0.0, max(length - low, 0.0), turn / _PLACES)
    if not len(s):
        return None
    end = start + length
    t = np.minimum(s[:, None] + np.linspace(low, high, _LOOKS), end)
    here = path.point(s)
    apart = path.point(t.ravel()).reshape(*t.shape, 3) - here[:, None]
    first = np.argmin(np.sum(apart * apart, axis=2), axis=1)
    # a nearest place at the edge of what was looked at is no neighbour
    keep = (first > 0) & (t[np.arange(len(s)), first] < end)
    if not keep.any():
        return None
    s, t, here = s[keep], t[np.arange(len(t)), first][keep], here[keep]
    for _ in range(_ROUNDS):
        off = path.point(t) - here
        tangent, bend = path.tangent(t), path.curvature(t)
        steep = 1 + np.sum(off * bend, axis=1)
        t = np.minimum(t - np.sum(off * tangent, axis=1) / np.maximum(steep, 0.1), end)
    distance = np.sqrt(np.sum((path.point(t) - here) ** 2, axis=1))
    i = int(np.argmin(distance))
    return float(distance[i]), float(s[i]), float(t[i])
