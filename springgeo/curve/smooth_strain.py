"""A smooth strain through the Gauss points of cells, and the wire that follows it to an end.

For many runs of wire at once: one after the other in the same arrays, each for itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import ArcEnds, arc_ends
from springgeo.curve.motion import Index, apply, chained, cross, rotation_vector, skew, transposed

# the two arcs of a stretch differ by this times the strain's difference between its Gauss points:
# then its far end is that of the linear strain to fourth order
SPREAD = 2 / math.sqrt(3)
# into how many steps a cell is cut where its strain is followed
STEPS = 4
_GAUSS = 1 / (2 * math.sqrt(3))
# Simpson's rule over the steps of a cell, and values at its Gauss points from those at the steps
_SIMPSON = np.array([1, 4, 2, 4, 1]) / 12
_PLACES = np.arange(STEPS + 1) / STEPS
_AT_GAUSS = np.array(
    [
        [np.prod([(g - x) / (y - x) for x in _PLACES if x != y]) for y in _PLACES]
        for g in (0.5 - _GAUSS, 0.5 + _GAUSS)
    ]
)


def _hermite(u: Array) -> Array:
    """Return the weights ``(k, 4)`` of both values and both slopes of a cubic at shares ``u``."""
    v, out = 1 - u, np.empty((len(u), 4))
    uu, vv = u * u, v * v
    out[:, 0], out[:, 1], out[:, 2], out[:, 3] = vv * (1 + 2 * u), uu * (1 + 2 * v), u * vv, -uu * v
    return out


# mean, and half the difference, between the Gauss points of each step, ``(2, STEPS, 4)``
_TWO = [_hermite(_PLACES[:-1] + (0.5 + x) / STEPS) for x in (-_GAUSS, _GAUSS)]
_IN_STEPS = np.stack([(_TWO[0] + _TWO[1]) / 2, (_TWO[1] - _TWO[0]) / 2])
# corrections of the strain until the wire ends where it should, of its size and in rad
_ROUNDS, MET = 6, 1e-9
# corrections that would have to be a hundred times as large as what they mend are left alone:
# nearly straight wire cannot be bent longer; nor is one made that mends less than this share
_WEAKEST, _WORTH = 0.01, 0.1


@dataclass(frozen=True, eq=False)
class Runs:
    """Cells of several runs of wire, one run after the other.

    Attributes
    ----------
    cells : (n,) float, mm
        Lengths.
    count : (m,) int
        Cells of each run.
    """

    cells: Array
    count: Index

    @classmethod
    def of(cls, cells: Sequence[Array]) -> Runs:
        """Return the runs of the lengths of their cells."""
        return cls(np.concatenate(cells), np.array([len(x) for x in cells], dtype=np.intp))

    @cached_property
    def start(self) -> Index:
        """First cell of each run, and the number of all cells, ``(m + 1,)``."""
        return np.concatenate([[0], np.cumsum(self.count)])

    @cached_property
    def run(self) -> Index:
        """Run of each cell, ``(n,)``."""
        return np.repeat(np.arange(len(self.count)), self.count)

    @cached_property
    def within(self) -> Index:
        """Place of each cell in its run, ``(n,)``."""
        return np.arange(len(self.cells)) - self.start[self.run]

    def only(self, left: Index) -> tuple[Runs, Index]:
        """Return some of the runs, and their cells among those of all."""
        count = self.count[left]
        cells = np.repeat(self.start[left] - np.cumsum(count) + count, count)
        cells = cells + np.arange(len(cells))
        return Runs(self.cells[cells], count), cells

    def each(self, flat: Array, per_cell: int = 1) -> list[Array]:
        """Return what belongs to each run of values at the places of all runs.

        A run has ``per_cell`` places to a cell, and one more at its end where that is not one.
        """
        more = 0 if per_cell == 1 else 1
        at = per_cell * self.start + more * np.arange(len(self.start))
        return [flat[a:b] for a, b in pairwise(at.tolist())]


@dataclass(frozen=True, eq=False)
class SmoothStrain:
    """Cubic in each of ``n`` cells, value and slope continuous over the nodes between them.

    Attributes
    ----------
    cells : (n,) float, mm
    value, slope : two of (n, 3) float, 1/mm
        At the start and the end of each cell; the slope is per cell length.
    """

    cells: Array
    value: tuple[Array, Array]
    slope: tuple[Array, Array]

    @classmethod
    def of(cls, cells: Array, middle: Array, slope: Array) -> SmoothStrain:
        """Return the strain of one run (``of_runs``)."""
        return cls.of_runs(Runs.of([cells]), middle, slope)

    @classmethod
    def of_runs(cls, runs: Runs, middle: Array, slope: Array) -> SmoothStrain:
        """Return the strain of cells with a mean and half a difference between Gauss points.

        Value and slope at a node are those of the cubic through the two Gauss points on either
        side of it; at a run's end, of the node beside.
        """
        cells, count = runs.cells, runs.count
        start = np.concatenate([[0.0], np.cumsum(cells)])
        centre = (start[1:] + start[:-1]) / 2
        at = np.stack([centre - _GAUSS * cells, centre + _GAUSS * cells], axis=1)
        known = np.stack([middle - slope, middle + slope], axis=1)
        # nodes of runs of several cells: the first of each cell, and one more at each run's end
        run = np.repeat(np.arange(len(count)), count + 1)
        place = np.arange(len(run)) - runs.start[run] - run
        node = np.flatnonzero(count[run] > 1)
        run, place = run[node], place[node]
        beside = runs.start[run] + np.clip(place, 1, count[run] - 1)
        x = np.concatenate([at[beside - 1], at[beside]], axis=1)
        x -= start[runs.start[run] + place, None]
        found, rate = np.zeros((2, len(cells) + len(count), 3))
        y = np.concatenate([known[beside - 1], known[beside]], axis=1)
        found[node], rate[node] = _through(x, y)
        h, first = cells[:, None], np.arange(len(cells)) + runs.run
        value, steep = (found[first], found[first + 1]), (h * rate[first], h * rate[first + 1])
        # a cell that is a run of its own: the line through its two points
        alone = count[runs.run] == 1
        change = slope[alone] / _GAUSS
        value[0][alone], value[1][alone] = middle[alone] - change / 2, middle[alone] + change / 2
        steep[0][alone] = steep[1][alone] = change
        return cls(cells, value, steep)

    @cached_property
    def _known(self) -> Array:
        """Values and slopes of each cell, ``(n, 4, 3)``, in the order of ``_hermite``."""
        return np.stack([*self.value, *self.slope], axis=1)

    def at(self, cell: Index, u: Array) -> Array:
        """Return the strain ``(k, 3) 1/mm`` at the share ``u`` of cells (Hermite's cubic)."""
        out: Array = np.einsum("kj,kjx->kx", _hermite(u), self._known[cell])
        return out

    def step(self, cell: Index, start: Array, length: Array) -> ArcEnds:
        """Return the ends of steps of ``length`` mm from the share ``start`` of their cells."""
        share = length / self.cells[cell]
        gauss = np.concatenate([start + share * (0.5 + x) for x in (-_GAUSS, _GAUSS)])
        one, two = _hermite(gauss).reshape(2, -1, 4)
        middle, spread = (one + two) / 2, SPREAD / 2 * (two - one)
        # both arcs as ``two_arcs`` has them, which is linear in the strain
        weights = np.stack([middle - spread, middle + spread])
        bend = np.einsum("akj,kjx->akx", weights, self._known[cell]).reshape(-1, 3)
        first, second = arc_ends(np.concatenate([length, length]) / 2, bend).halves()
        return first.then(second)

    def followed(self, runs: Runs) -> ArcEnds:
        """Return axes and positions at every step, ``STEPS`` to a cell, each run's start included.

        Each run starts at the origin.
        """
        n = len(self.cells)
        strain = np.einsum("mjk,knx->mjnx", _IN_STEPS, np.stack([*self.value, *self.slope]))
        middle, slope = strain.reshape(2, STEPS * n, 3)
        near, far = two_arcs(np.tile(self.cells / STEPS, STEPS), middle, slope)
        ends = near.then(far)
        # each cell for itself, then one cell after the other
        within = [ArcEnds(ends.R[:n], ends.p[:n])]
        for i in range(n, STEPS * n, n):
            within.append(within[-1].then(ArcEnds(ends.R[i : i + n], ends.p[i : i + n])))
        R, p = chained(within[-1].R, within[-1].p, runs.within)
        first = runs.start[:-1]
        before = ArcEnds(np.roll(R, 1, axis=0), np.roll(p, 1, axis=0))
        before.R[first], before.p[first] = np.eye(3), 0.0
        R_all = np.empty((STEPS * n + len(first), 3, 3))
        p_all = np.empty((STEPS * n + len(first), 3))
        at = STEPS * np.arange(n) + runs.run
        begin = at[first]
        R_all[begin], p_all[begin] = np.eye(3), 0.0
        for k, part in enumerate(within, start=1):
            found = before.then(part) if k < STEPS else ArcEnds(R, p)
            R_all[at + k], p_all[at + k] = found.R, found.p
        return ArcEnds(R_all, p_all)


def two_arcs(length: Array, middle: Array, slope: Array) -> tuple[ArcEnds, ArcEnds]:
    """Return both halves of stretches of linear strain, each a helix arc."""
    spread = SPREAD * slope
    both = np.concatenate([middle - spread, middle + spread])
    return arc_ends(np.concatenate([length, length]) / 2, both).halves()


@dataclass(frozen=True, eq=False)
class Ending:
    """A smooth strain, its wire, and by how much mean and slope of each cell were corrected."""

    strain: SmoothStrain
    wire: ArcEnds
    correction: tuple[Array, Array]


def endings(
    runs: Runs,
    end: ArcEnds,
    middle: Array,
    slope: Array,
    correction: tuple[Array, Array] | None = None,
    met: float = MET,
) -> list[Ending]:
    """Return the smooth strains of runs, so corrected that their wires end at ``end``.

    The correction is the least of those that vary linearly along the run in space, or are
    constant in the wire's own axes: as smooth as the strain, and it leaves the wire's length.
    ``correction`` is that of nearly the same strain, to begin with; ``met`` is what may be missed,
    in rad and of a run's size.
    """
    more, steeper = (x.copy() for x in correction or (np.zeros_like(middle), np.zeros_like(slope)))
    found: dict[int, Ending] = {}
    left = np.arange(len(runs.count))
    for i in range(_ROUNDS):
        now, cells = runs.only(left)
        strain = SmoothStrain.of_runs(
            now, middle[cells] + more[cells], slope[cells] + steeper[cells]
        )
        wire = strain.followed(now)
        missed, size = _missed(now, wire, ArcEnds(end.R[left], end.p[left]))
        most = np.abs(missed).max(axis=1)
        stays = (most < met) | (i == _ROUNDS - 1)
        if not stays.all():
            change, mended = _correction(now, wire, missed, size)
            stays |= np.abs(mended).max(axis=1) < _WORTH * most
        parts = _each(now, strain, wire, (more[cells], steeper[cells]))
        found |= {int(left[k]): parts[k] for k in np.flatnonzero(stays)}
        if stays.all():
            break
        first, second = np.einsum("gj,jnk->gnk", _AT_GAUSS, change)
        moved = ~stays[now.run]
        more[cells[moved]] += ((first + second) / 2)[moved]
        steeper[cells[moved]] += ((second - first) / 2)[moved]
        left = left[~stays]
    return [found[k] for k in range(len(runs.count))]


def _missed(runs: Runs, wire: ArcEnds, end: ArcEnds) -> tuple[Array, Array]:
    """Return turn and way from each wire's end to where it should be, and the wires' sizes.

    ``(m, 6)``, in rad and over the size; ``(m,) mm``.
    """
    last = STEPS * runs.start[1:] + np.arange(len(runs.count))
    begin = np.concatenate([[0], last[:-1] + 1])
    extent = np.maximum.reduceat(wire.p, begin) - np.minimum.reduceat(wire.p, begin)
    size = extent.max(axis=1) + runs.cells[runs.start[:-1]]
    turn = rotation_vector(end.R @ transposed(wire.R[last]))
    return np.concatenate([turn, (end.p - wire.p[last]) / size[:, None]], axis=1), size


def _each(
    runs: Runs, strain: SmoothStrain, wire: ArcEnds, correction: tuple[Array, Array]
) -> list[Ending]:
    """Return the wire of each run by itself."""
    per_cell = (runs.cells, *strain.value, *strain.slope, *correction)
    parts = zip(
        *(runs.each(x) for x in per_cell),
        *(runs.each(x, STEPS) for x in (wire.R, wire.p)),
        strict=True,
    )
    return [
        Ending(SmoothStrain(cells, (a, b), (da, db)), ArcEnds(R, p), (more, steeper))
        for cells, a, b, da, db, more, steeper, R, p in parts
    ]


def _correction(runs: Runs, wire: ArcEnds, missed: Array, size: Array) -> tuple[Array, Array]:
    """Return the change of strain at the steps of each cell, and what it mends of ``missed``.

    The former is ``(STEPS + 1, n, 3) 1/mm``, in the wire's own axes. By how rotations of the wire
    along the run move its end: d(turn) = ∫ ω ds, d(place) = ∫ ω × (end − place) ds.
    """
    R, n = wire.R, len(runs.cells)
    at = STEPS * np.arange(n) + runs.run
    begin = at[runs.start[:-1]]
    run = np.repeat(np.arange(len(runs.count)), STEPS * runs.count + 1)
    step, weight = np.zeros((2, len(run)))
    for k, share in enumerate(_SIMPSON):
        weight[at + k] += share * runs.cells
        if k:
            step[at + k] = runs.cells / STEPS
    x = np.cumsum(step)
    whole = np.add.reduceat(runs.cells, runs.start[:-1])
    along = 2 * (x - x[begin][run]) / whole[run] - 1
    weight /= whole[run]
    last = np.append(begin[1:], len(x)) - 1
    to_end = (wire.p[last][run] - wire.p) / size[run, None]
    # rotations constant in space, linear in space, constant in the wire's axes: of each, how much
    # turns, and how far that moves the end
    sums = np.stack([weight, weight * along], axis=1)
    turned, arm = _summed(sums, begin), _summed(sums[:, :, None] * to_end[:, None], begin)
    own = _summed(weight[:, None, None] * R, begin)
    moved = _summed(weight[:, None, None] * cross(transposed(R), to_end[:, None, :]), begin)
    effect = np.empty((len(begin), 6, 9))
    effect[:, :3, :3], effect[:, :3, 3:6] = (turned[:, i, None, None] * np.eye(3) for i in (0, 1))
    effect[:, 3:, :3], effect[:, 3:, 3:6] = -skew(arm[:, 0]), -skew(arm[:, 1])
    effect[:, :3, 6:], effect[:, 3:, 6:] = own, transposed(moved)
    u, s, v = np.linalg.svd(effect, full_matrices=False)
    strong = s > _WEAKEST * s[:, :1]
    least = apply(transposed(u), missed) * strong / np.where(strong, s, 1.0)
    least = apply(transposed(v), least)
    of = (least / whole[:, None])[run]
    change = apply(transposed(R), of[:, :3] + along[:, None] * of[:, 3:6]) + of[:, 6:]
    return np.stack([change[at + k] for k in range(STEPS + 1)]), apply(effect, least)


def _summed(values: Array, begin: Index) -> Array:
    """Return the sums of values from each of ``begin`` to the next."""
    result: Array = np.add.reduceat(values, begin)
    return result


def _through(x: Array, y: Array) -> tuple[Array, Array]:
    """Return value and slope at zero of the cubics through ``(m, 4)`` places, ``(m, 4, 3)``."""
    powers = x[:, :, None] ** np.arange(4)
    coefficients = np.asarray(np.linalg.solve(powers, y), dtype=float)
    return coefficients[:, 0], coefficients[:, 1]
