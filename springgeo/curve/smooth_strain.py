"""A smooth strain through the Gauss points of cells, and the wire that follows it to an end."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.curve.helix_arc import ArcEnds, arc_ends
from springgeo.curve.motion import apply, chained, cross, rotation_vector, transposed

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
# corrections of the strain until the wire ends where it should, of its size and in rad
_ROUNDS, _MET = 6, 1e-10
# corrections that would have to be a hundred times as large as what they mend are left alone:
# nearly straight wire cannot be bent longer; nor is one made that mends less than this share
_WEAKEST, _WORTH = 0.01, 0.1


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
        """Return the strain of cells with a mean and half a difference between Gauss points.

        Value and slope at a node are those of the cubic through the two Gauss points on either
        side of it; at a run's end, of the node beside.
        """
        if len(cells) == 1:
            change = slope / _GAUSS
            return cls(cells, (middle - change / 2, middle + change / 2), (change, change))
        start = np.concatenate([[0.0], np.cumsum(cells)])
        centre = (start[1:] + start[:-1]) / 2
        at = np.stack([centre - _GAUSS * cells, centre + _GAUSS * cells], axis=1)
        known = np.stack([middle - slope, middle + slope], axis=1)
        beside = np.clip(np.arange(len(cells) + 1), 1, len(cells) - 1)
        x = np.concatenate([at[beside - 1], at[beside]], axis=1) - start[:, None]
        y = np.concatenate([known[beside - 1], known[beside]], axis=1)
        value, rate = _through(x, y)
        h = cells[:, None]
        return cls(cells, (value[:-1], value[1:]), (h * rate[:-1], h * rate[1:]))

    def at(self, cell: npt.NDArray[np.intp], u: Array) -> Array:
        """Return the strain ``(k, 3) 1/mm`` at the share ``u`` of cells (Hermite's cubic)."""
        u = u[:, None]
        v = 1 - u
        (a, b), (da, db) = self.value, self.slope
        out: Array = (
            v * v * (1 + 2 * u) * a[cell]
            + u * u * (1 + 2 * v) * b[cell]
            + u * v * (v * da[cell] - u * db[cell])
        )
        return out

    def step(self, cell: npt.NDArray[np.intp], start: Array, length: Array) -> ArcEnds:
        """Return the ends of steps of ``length`` mm from the share ``start`` of their cells."""
        share = length / self.cells[cell]
        one = self.at(cell, start + share * (0.5 - _GAUSS))
        two = self.at(cell, start + share * (0.5 + _GAUSS))
        first, second = two_arcs(length, (one + two) / 2, (two - one) / 2)
        return first.then(second)

    def followed(self) -> ArcEnds:
        """Return axes and positions at every step, ``STEPS`` to a cell, the start included."""
        n = len(self.cells)
        cell = np.tile(np.arange(n), STEPS)
        start = np.repeat(np.arange(STEPS) / STEPS, n)
        ends = self.step(cell, start, self.cells[cell] / STEPS)
        # each cell for itself, then one cell after the other
        within = [ArcEnds(ends.R[:n], ends.p[:n])]
        for i in range(n, len(cell), n):
            within.append(within[-1].then(ArcEnds(ends.R[i : i + n], ends.p[i : i + n])))
        R, p = chained(within[-1].R, within[-1].p)
        before = ArcEnds(
            np.concatenate([np.eye(3)[None], R[:-1]]), np.concatenate([np.zeros((1, 3)), p[:-1]])
        )
        R_all, p_all = np.empty((len(cell) + 1, 3, 3)), np.empty((len(cell) + 1, 3))
        R_all[0], p_all[0] = np.eye(3), 0.0
        for k, part in enumerate(within, start=1):
            at = before.then(part) if k < STEPS else ArcEnds(R, p)
            R_all[k::STEPS], p_all[k::STEPS] = at.R, at.p
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


def ending_at(
    end: ArcEnds,
    cells: Array,
    middle: Array,
    slope: Array,
    correction: tuple[Array, Array] | None = None,
) -> Ending:
    """Return the smooth strain of cells, so corrected that its wire ends at ``end``.

    The correction is the least of those that vary linearly along the run in space, or are
    constant in the wire's own axes: as smooth as the strain, and it leaves the wire's length.
    ``correction`` is that of nearly the same strain, to begin with.
    """
    more, steeper = correction or (np.zeros_like(middle), np.zeros_like(slope))
    for _ in range(_ROUNDS):
        strain = SmoothStrain.of(cells, middle + more, slope + steeper)
        wire = strain.followed()
        size = float(np.ptp(wire.p, axis=0).max()) + float(cells[0])
        turn = rotation_vector(end.R @ transposed(wire.R[-1:]))[0]
        missed = np.concatenate([turn, (end.p - wire.p[-1:])[0] / size])
        most = float(np.abs(missed).max())
        if most < _MET:
            break
        change, mended = _correction(cells, wire, missed, size)
        if float(np.abs(mended).max()) < _WORTH * most:
            break
        first, last = np.einsum("gj,jnk->gnk", _AT_GAUSS, change)
        more, steeper = more + (first + last) / 2, steeper + (last - first) / 2
    return Ending(strain, wire, (more, steeper))


def _correction(cells: Array, wire: ArcEnds, missed: Array, size: float) -> tuple[Array, Array]:
    """Return the change of strain at the steps of each cell, and what it mends of ``missed``.

    The former is ``(STEPS + 1, n, 3) 1/mm``, in the wire's own axes. By how rotations of the wire
    along the run move its end: d(turn) = ∫ ω ds, d(place) = ∫ ω × (end − place) ds.
    """
    R, p, n = wire.R, wire.p, len(cells)
    x = np.concatenate([[0.0], np.cumsum(np.repeat(cells / STEPS, STEPS))])
    along = (2 * x / x[-1] - 1)[:, None, None]
    space = np.broadcast_to(np.eye(3), R.shape)
    # columns: constant in space, linear in space, constant in the wire's axes
    modes = np.concatenate([space, along * space, R], axis=2) / x[-1]
    weight = np.zeros(len(x))
    for k, share in enumerate(_SIMPSON):
        weight[k : k + STEPS * n : STEPS] += share * cells
    turned = np.einsum("m,mij->ij", weight, modes)
    moved = cross(transposed(modes), (p[-1] - p)[:, None, :]) / size
    effect = np.concatenate([turned, np.einsum("m,mji->ij", weight, moved)])
    share, *_ = np.linalg.lstsq(effect, missed, rcond=_WEAKEST)
    change = apply(transposed(R), modes @ share)
    steps = np.stack([change[k : k + STEPS * n : STEPS] for k in range(STEPS + 1)])
    return steps, effect @ share


def _through(x: Array, y: Array) -> tuple[Array, Array]:
    """Return value and slope at zero of the cubics through ``(m, 4)`` places, ``(m, 4, 3)``."""
    powers = x[:, :, None] ** np.arange(4)
    coefficients = np.asarray(np.linalg.solve(powers, y), dtype=float)
    return coefficients[:, 0], coefficients[:, 1]
