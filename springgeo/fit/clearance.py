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
        value = np.where(np.abs(found.s - tip) <= 1e-9 * wire.path.length, np.inf, value)
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
    # inside an obstacle the depth has creases, which only halving finds
    deep = [bool(f[c].min() <= 0) for f, c in zip(coarse, each, strict=True)]
    out: list[_Minima] = [None] * len(pairs)  # type: ignore[list-item]
    for kind, rounds in ((False, _ROUNDS), (True, 4 * _ROUNDS)):
        which = [i for i, d in enumerate(deep) if d is kind]
        if not which:
            continue
        ends = np.cumsum([len(each[i]) for i in which]).tolist()
        parts = [slice(a, b) for a, b in zip([0, *ends], ends, strict=False)]
        rows = [(pairs[i][0], part) for i, part in zip(which, parts, strict=True)]
        found = _narrowed(wire, np.concatenate([each[i] for i in which]), rows, rounds)
        for i, part in zip(which, parts, strict=True):
            out[i] = _Minima(found.s[part], found.value[part], found.point[part])
    return out


def _narrowed(
    wire: Wire, chosen: Index, rows: Sequence[tuple[Obstacle, slice]], rounds: int
) -> _Minima:
    """Return the lowest place near each station; ``rows`` says which belong to which obstacle."""
    joined = [rows[0]]
    for obstacle, part in rows[1:]:  # a pin is measured against hook and body, one after the other
        last, before = joined[-1]
        if last is obstacle:
            joined[-1] = (last, slice(before.start, part.stop))
        else:
            joined.append((obstacle, part))

    def distance(point: Array) -> Array:
        parts = [obstacle.distance(point[part].reshape(-1, 3)) for obstacle, part in joined]
        return np.concatenate(parts).reshape(point.shape[:-1])

    a, b, piece = wire.low[chosen], wire.high[chosen], wire.piece[chosen]
    middle, half = (a + b) / 2, (b - a) / 2
    index, n = np.arange(len(middle)), len(_NODES)
    for _ in range(rounds):
        s = middle[:, None] + half[:, None] * _NODES
        s = np.minimum(np.maximum(s, a[:, None]), b[:, None])
        value = distance(wire.at(s.ravel(), np.repeat(piece, n)).reshape(-1, n, 3))
        best = np.argmin(value, axis=1)
        middle = s[index, best]
        half = half / 8
    inner = np.minimum(np.maximum(best, 1), n - 2)
    middle = np.where(best == inner, _vertex(s, value, index, inner), middle)
    point = wire.at(middle, piece)
    return _Minima(middle, np.minimum(distance(point), value[index, best]), point)


def _vertex(s: Array, value: Array, rows: Index, inner: Index) -> Array:
    """Return the lowest point of the parabola through three neighbouring nodes of each row."""
    before, here, after = (value[rows, inner + k] for k in (-1, 0, 1))
    step = s[rows, inner + 1] - s[rows, inner]
    bend = before - 2 * here + after
    shift = np.where(bend > 1e-15, (before - after) / np.where(bend > 1e-15, 2 * bend, 1.0), 0.0)
    result: Array = s[rows, inner] + step * np.minimum(np.maximum(shift, -1.0), 1.0)
    return result
