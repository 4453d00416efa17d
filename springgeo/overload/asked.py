"""Which sections of a spring are asked fibre by fibre, and how the others follow from them.

Along a body the same place of every turn bears nearly the same, and what there is of change from
turn to turn is smooth. So a few turns are asked, and between them one interpolates.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.equilibrium.natural import Drawn

# turns at both ends of a body that are all asked, and stations between them
ENDS, BETWEEN = 2, 8
_SAME = 1e-7


@dataclass(frozen=True, eq=False)
class Asked:
    """Sections that are asked, numbers ``rows`` (k,) int, and where the others lie between two.

    ``low`` and ``high`` (n,) int: places in ``rows`` that each section lies between, its own
    twice if it is asked; ``share`` (n,) of ``high``.
    """

    rows: npt.NDArray[np.intp]
    low: npt.NDArray[np.intp]
    high: npt.NDArray[np.intp]
    share: Array

    def spread(self, values: Array) -> Array:
        """Return values ``(k, ...)`` of the asked sections for all of them, ``(n, ...)``."""
        share = self.share.reshape(-1, *[1] * (values.ndim - 1))
        found: Array = (1 - share) * values[self.low] + share * values[self.high]
        return found


def asked(wire: Drawn) -> Asked:
    """Return the sections to ask: at the first Gauss points of all cells, then at the second."""
    n = len(wire.length)
    low, high, share = np.arange(n), np.arange(n), np.zeros(n)
    for first, last, stride in _bodies(wire):
        whole = (last - first) // stride
        turns = np.unique(
            np.concatenate(
                [
                    np.arange(ENDS),
                    np.rint(np.linspace(ENDS, whole - 1 - ENDS, BETWEEN)).astype(int),
                    np.arange(whole - ENDS, whole),
                ]
            )
        )
        turn, place = np.divmod(np.arange(whole * stride), stride)
        after = np.searchsorted(turns, turn)
        exact = turns[after] == turn
        before = np.where(exact, after, after - 1)
        cells = first + np.arange(whole * stride)
        low[cells] = first + turns[before] * stride + place
        high[cells] = first + turns[after] * stride + place
        gap = np.maximum(turns[after] - turns[before], 1)
        share[cells] = (turn - turns[before]) / gap
    low, high, share = (
        np.concatenate([low, low + n]),
        np.concatenate([high, high + n]),
        np.tile(share, 2),
    )
    rows = np.flatnonzero(low == np.arange(2 * n))
    return Asked(rows, np.searchsorted(rows, low), np.searchsorted(rows, high), share)


def _bodies(wire: Drawn) -> list[tuple[int, int, int]]:
    """Return runs of cells alike, first, last, and how many make a turn, of many turns."""
    size = np.sqrt(np.sum(wire.strain.middle**2, axis=1))
    angle = wire.length * size
    alike = (
        (np.diff(wire.piece) == 0)
        & (np.abs(np.diff(wire.length)) <= _SAME * wire.length[1:])
        & (np.abs(np.diff(angle)) <= _SAME * angle[1:])
        & (np.abs(np.diff(wire.strain.middle, axis=0)).max(axis=1) <= _SAME * size[1:])
    )
    edges = np.concatenate([[0], np.flatnonzero(~alike) + 1, [len(angle)]])
    found = []
    for first, last in zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True):
        stride = 2 * math.pi / max(float(angle[first]), 1e-9)
        whole = abs(stride - round(stride)) <= 1e-6 * stride
        if whole and (last - first) // round(stride) > 2 * ENDS + BETWEEN:
            found.append((first, last, round(stride)))
    return found
