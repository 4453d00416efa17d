"""Where words go in a diagram: inside it, clear of each other and of marks, in any font."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

Side = Literal["start", "middle", "end"]
# em: no common face of letters is wider (DejaVu and Verdana are the widest, 0.64 for a digit)
_PLAIN, _CAPITAL, _WIDE, _BOLD = 0.66, 0.8, 1.0, 1.1
_WIDER = frozenset("mwMW%@±−+=<>×…")
# of a line of letters, over the size of the font: above and below the baseline
ABOVE, BELOW = 0.85, 0.3
_GAPS = (8.0, 14.0, 24.0, 36.0, 50.0, 66.0, 84.0)


class Box(NamedTuple):
    """A rectangle; v runs down."""

    left: float
    top: float
    right: float
    bottom: float

    def shared(self, other: Box) -> float:
        """Return the area shared with another."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.bottom, other.bottom) - max(self.top, other.top)
        return max(wide, 0.0) * max(high, 0.0)


class Spot(NamedTuple):
    """Where words stand: their baseline's point, which side of them it is, and their box."""

    u: float
    v: float
    side: Side
    box: Box
    far: bool


def width(text: str, size: float, *, bold: bool = False) -> float:
    """Return no less than the width of words in a font of so many units."""
    ems = sum(_WIDE if c in _WIDER else _CAPITAL if c.isupper() else _PLAIN for c in text)
    return ems * size * (_BOLD if bold else 1.0)


def boxed(u: float, v: float, text: str, side: Side, size: float, *, bold: bool = False) -> Box:
    """Return the box of words written at a point."""
    wide = width(text, size, bold=bold)
    left = u - {"start": 0.0, "middle": 0.5, "end": 1.0}[side] * wide
    return Box(left, v - ABOVE * size, left + wide, v + BELOW * size)


def place(
    wanted: Sequence[tuple[float, float, str]],
    edges: Box,
    taken: Sequence[Box],
    busy: npt.NDArray[np.float64],
    size: float,
) -> list[Spot]:
    """Return a spot for each of several words, each near its own point.

    Of some fifty places about a point the one that shares least with what is taken, then with
    the lines drawn there, and the nearest of these.

    Parameters
    ----------
    wanted : sequence of (u, v, text)
    edges : Box
        In which all must stay.
    taken : sequence of Box
        Marks, and words that stand already.
    busy : (n, 2) float
        Points of lines: letters over them are harder to read.
    size : float
        Of the font.
    """
    full, found = list(taken), []
    for u, v, text in wanted:
        spots = [_within(edges, s) for s in _about(u, v, text, size)]
        costs = [_cost(s.box, i, edges, full, busy) for i, s in enumerate(spots)]
        best = spots[min(range(len(spots)), key=lambda i: costs[i])]
        full.append(best.box)
        found.append(best)
    return found


def _about(u: float, v: float, text: str, size: float) -> list[Spot]:
    found = []
    middle = (ABOVE - BELOW) / 2 * size
    for gap in _GAPS:
        sides: tuple[tuple[float, float, Side], ...] = (
            (gap, -0.5 * gap - 3, "start"),
            (-gap, -0.5 * gap - 3, "end"),
            (gap, 0.5 * gap + 2 * middle, "start"),
            (-gap, 0.5 * gap + 2 * middle, "end"),
            (gap + 2, middle, "start"),
            (-gap - 2, middle, "end"),
            (0.0, -gap, "middle"),
            (0.0, gap + ABOVE * size, "middle"),
        )
        for du, dv, side in sides:
            box = boxed(u + du, v + dv, text, side, size, bold=True)
            found.append(Spot(u + du, v + dv, side, box, gap > 20))
    return found


def _within(edges: Box, spot: Spot) -> Spot:
    """Return a spot moved inside, if it does not lie there."""
    box = spot.box
    right = max(edges.left - box.left, 0.0) - max(box.right - edges.right, 0.0)
    down = max(edges.top - box.top, 0.0) - max(box.bottom - edges.bottom, 0.0)
    moved = Box(box.left + right, box.top + down, box.right + right, box.bottom + down)
    return Spot(spot.u + right, spot.v + down, spot.side, moved, spot.far)


def _cost(
    box: Box, rank: int, edges: Box, full: Sequence[Box], busy: npt.NDArray[np.float64]
) -> float:
    area = (box.right - box.left) * (box.bottom - box.top)
    outside = 1 - box.shared(edges) / area
    covered = sum(box.shared(other) for other in full) / area
    under = 0
    if len(busy):
        inside = (busy[:, 0] > box.left) & (busy[:, 0] < box.right)
        under = int((inside & (busy[:, 1] > box.top) & (busy[:, 1] < box.bottom)).sum())
    # any touch is worse than a long way
    touch = 100.0 if covered > 0 else 0.0
    return 1e4 * outside + 1e3 * covered + touch + 0.5 * min(under, 40) + 0.6 * rank
