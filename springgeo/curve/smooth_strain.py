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
# corrections of the strain until the wire ends where it should, of its size and in rad
_ROUNDS, _MET = 6, 1e-13
# corrections that would have to be a hundred times as large as what they mend are left alone:
# nearly straight wire cannot be bent longer
_WEAKEST = 0.01


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
        cell = np.repeat(np.arange(len(self.cells)), STEPS)
        start = np.tile(np.arange(STEPS) / STEPS, len(self.cells))
        ends = self.step(cell, start, self.cells[cell] / STEPS)
        R, p = chained(ends.R, ends.p)
        return ArcEnds(np.concatenate([np.eye(3)[None], R]), np.concatenate([np.zeros((1, 3)), p]))


def two_arcs(length: Array, middle: Array, slope: Array) -> tuple[ArcEnds, ArcEnds]:
    """Return both halves of stretches of linear strain, each a helix arc."""
    spread = SPREAD * slope
    both = np.concatenate([middle - spread, middle + spread])
    return arc_ends(np.concatenate([length, length]) / 2, both).halves()


def ending_at(end: ArcEnds, cells: Array, middle: Array, slope: Array) -> SmoothStrain:
    """Return the smooth strain of cells, so corrected that its wire ends at ``end``.

    The correction is the least of those that vary linearly along the run in space, or are
    constant in the wire's own axes: as smooth as the strain, and it leaves the wire's length.
    """
    for _ in range(_ROUNDS):
        strain = SmoothStrain.of(cells, middle, slope)
        wire = strain.followed()
        size = float(np.ptp(wire.p, axis=0).max()) + float(cells[0])
        turn = rotation_vector(end.R @ transposed(wire.R[-1:]))[0]
        missed = np.concatenate([turn, (end.p - wire.p[-1:])[0] / size])
        if float(np.abs(missed).max()) < _MET:
            break
        change = _correction(cells, wire, missed, size)
        early, late = change[1::STEPS], change[3::STEPS]
        middle = middle + (early + late) / 2
        # a quarter and three quarters of a cell lie nearer together than its Gauss points
        slope = slope + (late - early) * (2 * _GAUSS)
    return strain


def _correction(cells: Array, wire: ArcEnds, missed: Array, size: float) -> Array:
    """Return the change of strain at every step, ``(m, 3) 1/mm``, in the wire's own axes.

    By how rotations of the wire along the run move its end: d(turn) = ∫ ω ds,
    d(place) = ∫ ω × (end − place) ds.
    """
    step = np.repeat(cells / STEPS, STEPS)
    x = np.concatenate([[0.0], np.cumsum(step)])
    R, p = wire.R, wire.p
    along = (2 * x / x[-1] - 1)[:, None, None]
    space = np.broadcast_to(np.eye(3), R.shape)
    # columns: constant in space, linear in space, constant in the wire's axes
    modes = np.concatenate([space, along * space, R], axis=2) / x[-1]
    # the trapezoidal rule
    weight = (np.append(step, 0.0) + np.append(0.0, step)) / 2
    arm = p[-1] - p
    turned = np.einsum("m,mij->ij", weight, modes)
    moved = np.stack(
        [weight @ cross(modes[:, :, j], arm) / size for j in range(modes.shape[2])], axis=1
    )
    share, *_ = np.linalg.lstsq(np.concatenate([turned, moved]), missed, rcond=_WEAKEST)
    return apply(transposed(R), np.einsum("mij,j->mi", modes, share))


def _through(x: Array, y: Array) -> tuple[Array, Array]:
    """Return value and slope at zero of the cubics through ``(m, 4)`` places, ``(m, 4, 3)``."""
    powers = x[:, :, None] ** np.arange(4)
    coefficients = np.asarray(np.linalg.solve(powers, y), dtype=float)
    return coefficients[:, 0], coefficients[:, 1]
