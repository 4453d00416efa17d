"""How far the wire's surface is from an obstacle, and where: our own exact distance.

Stations on the centreline give a coarse distance; those that a chord's length could still bring
below the best one are narrowed down together. The tube's surface lies d/2 nearer than its
centreline wherever the least distance falls inside the wire; at a cut end the flat disc is
measured instead. Where only some pieces are asked for, their inner limits count as round ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.fit.disc import disc_distance
from springgeo.fit.obstacles import Obstacle
from springgeo.fit.wire import Mask, Wire

Index = npt.NDArray[np.intp]
Pair = tuple[Obstacle, Mask]

_NODES = np.linspace(-1.0, 1.0, 17)
_ROUNDS = 2
# so near an end, as a share of the wire, is at it
_TIP = 1e-9
# distances that agree to so many digits, mm, are the same
_DIGITS = 9


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
    return clearances(wire, [(obstacle, wire.all)])[0]


def clearances(wire: Wire, pairs: Sequence[Pair]) -> list[Clearance]:
    """Return the least distance of each pair of an obstacle and stations ``(n,) bool``.

    The stations of a pair are those of whole pieces. All pairs are narrowed down together, which
    takes little longer than one.
    """
    if not pairs:
        return []
    seen: dict[int, Array] = {}
    for obstacle, _ in pairs:
        if id(obstacle) not in seen:
            seen[id(obstacle)] = obstacle.distance(wire.point)
    coarse = [seen[id(obstacle)] for obstacle, _ in pairs]
    out = []
    for (obstacle, group), f, found in zip(
        pairs, coarse, _stationary(wire, pairs, coarse), strict=True
    ):
        tips = [(k, s) for k, s in ((0, 0.0), (-1, wire.path.length)) if _at_tip(wire, group, k)]
        best = _least(wire, found, [s for _, s in tips])
        for k, s in tips:
            # the cut lies no nearer than its centre less the radius
            if float(f[k]) - wire.wire_radius < best[0]:
                along = wire.path.tangent(np.array([s]))[0]
                distance, place = disc_distance(obstacle, wire.point[k], along, wire.wire_radius)
                best = min(best, (distance, s, place), key=lambda c: c[0])
        x, y, z = map(float, best[2])
        out.append(Clearance(best[0], wire.label(best[1]), best[1], (x, y, z)))
    return out


def _at_tip(wire: Wire, group: Mask, k: int) -> bool:
    """Return whether the first (0) or last (−1) station is a cut end of the wire, and wanted."""
    return bool(group[k]) and int(wire.piece[k]) == (0 if k == 0 else len(wire.path.pieces) - 1)


@dataclass(frozen=True, eq=False)
class _Minima:
    """Local minima: arc length ``(m,)``, distance from the centreline, point ``(m, 3)``."""

    s: Array
    value: Array
    point: Array


def _least(wire: Wire, found: _Minima, tips: Sequence[float]) -> tuple[float, float, Array]:
    """Return surface distance, arc length and point of the lowest minimum that is no tip."""
    value = found.value
    for tip in tips:
        value = np.where(np.abs(found.s - tip) <= _TIP * wire.path.length, np.inf, value)
    i = int(np.argmin(np.round(value, _DIGITS)))
    return float(value.min()) - wire.wire_radius, float(found.s[i]), found.point[i]


def _candidates(wire: Wire, f: Array, group: Mask) -> Index:
    """Return the stations of a group from which its least distance may be reached."""
    # the distance changes by no more than the arc length: what lies higher cannot win
    within = np.flatnonzero(group & (f - wire.reach <= f[group].min()))
    value = f[within]
    beside = np.minimum(f[within - 1], f[(within + 1) % len(f)])
    lowest = np.flatnonzero((value <= beside + 1e-12) | wire.edge[within])
    # of equals, as all round a bore, the first two along the wire stand for all
    level = np.round(value[lowest], _DIGITS)
    order = np.argsort(level, kind="stable")
    level = level[order]
    new = np.ones(len(order), dtype=bool)
    new[2:] = level[2:] != level[:-2]
    return within[np.sort(lowest[order[new]])]


def _stationary(wire: Wire, pairs: Sequence[Pair], coarse: Sequence[Array]) -> list[_Minima]:
    """Return the local minima of every pair."""
    each = [_candidates(wire, f, group) for (_, group), f in zip(pairs, coarse, strict=True)]
    obstacles = [obstacle for obstacle, _ in pairs]
    # inside an obstacle the depth has creases, which only halving finds
    deep = [bool(f[c].min() <= 0) for f, c in zip(coarse, each, strict=True)]
    out: list[_Minima] = [None] * len(pairs)  # type: ignore[list-item]
    for kind, rounds in ((False, _ROUNDS), (True, 4 * _ROUNDS)):
        which = [i for i, d in enumerate(deep) if d is kind]
        if not which:
            continue
        count = [len(each[i]) for i in which]
        chosen = np.concatenate([each[i] for i in which])
        found = _narrowed(wire, chosen, np.repeat(which, count), obstacles, rounds)
        ends = np.cumsum(count).tolist()
        for i, a, b in zip(which, [0, *ends], ends, strict=False):
            out[i] = _Minima(found.s[a:b], found.value[a:b], found.point[a:b])
    return out


def _narrowed(
    wire: Wire, chosen: Index, pair: Index, obstacles: Sequence[Obstacle], rounds: int
) -> _Minima:
    """Return the lowest place near each station, for the pair that it is a candidate of.

    One that cannot reach the least of its pair is left where that shows.
    """
    low, high = wire.low[chosen], wire.high[chosen]
    s, half, live = (low + high) / 2, (high - low) / 2, np.arange(len(chosen))
    value = np.empty(len(chosen))
    for left in range(rounds - 1, -1, -1):
        of, row = pair[live], np.arange(len(live))
        nodes = s[live, None] + half[live, None] * _NODES
        nodes = np.minimum(np.maximum(nodes, low[live, None]), high[live, None])
        found = _distances(wire.path.point(nodes.ravel()), of, obstacles).reshape(nodes.shape)
        best = np.argmin(found, axis=1)
        s[live], value[live] = nodes[row, best], found[row, best]
        if left:
            half[live] /= 8
            # no place is further from a node than half of what they are apart
            reached = _least_of_each(wire, s[live], value[live], of)
            live = live[value[live] - half[live] / 2 <= reached[of]]
    inner = np.minimum(np.maximum(best, 1), len(_NODES) - 2)
    s[live] = np.where(best == inner, _vertex(nodes, found, row, inner), s[live])
    point = wire.path.point(s)
    value[live] = np.minimum(_distances(point[live], of, obstacles), value[live])
    return _Minima(s, value, point)


def _distances(point: Array, pair: Index, obstacles: Sequence[Obstacle]) -> Array:
    """Return how far points ``(n k, 3)``, k for each pair ``(n,)``, are from its obstacle."""
    pair = np.repeat(pair, len(point) // max(len(pair), 1))
    out = np.empty(len(point))
    # a pin is measured against hook and body: both at once
    for same in {id(obstacles[i]): obstacles[i] for i in set(pair.tolist())}.values():
        here = np.flatnonzero(np.array([x is same for x in obstacles])[pair])
        out[here] = same.distance(point[here])
    return out


def _least_of_each(wire: Wire, s: Array, value: Array, pair: Index) -> Array:
    """Return the least value of each pair, by its number; ends of the wire do not count."""
    tiny = _TIP * wire.path.length
    inside = (s > tiny) & (s < wire.path.length - tiny)
    least = np.full(pair.max(initial=-1) + 1, np.inf)
    np.minimum.at(least, pair[inside], value[inside])
    return least


def _vertex(s: Array, value: Array, rows: Index, inner: Index) -> Array:
    """Return the lowest point of the parabola through three neighbouring nodes of each row."""
    before, here, after = (value[rows, inner + k] for k in (-1, 0, 1))
    step = s[rows, inner + 1] - s[rows, inner]
    bend = before - 2 * here + after
    shift = np.where(bend > 1e-15, (before - after) / np.where(bend > 1e-15, 2 * bend, 1.0), 0.0)
    result: Array = s[rows, inner] + step * np.minimum(np.maximum(shift, -1.0), 1.0)
    return result
