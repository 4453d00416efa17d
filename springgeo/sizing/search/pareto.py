"""Points that no other point beats: the Pareto set, all columns to be small and positive."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

import numpy as np
import numpy.typing as npt

from springgeo.mechanics.value import Array, Mask

Index = npt.NDArray[np.intp]


def front(costs: Array) -> Index:
    """Return the indices of the points that no other is as good as in all and better in one.

    Of equal points the first is kept.

    Parameters
    ----------
    costs : array (n, k)
        Positive.
    """
    n, k = costs.shape
    if k <= 3:
        return _staircase(np.hstack([costs, np.zeros((n, 3 - k))]))
    # rows in ascending order of their logarithms' sum are beaten by earlier ones only
    left: Index = np.argsort(np.log(costs).sum(axis=1), kind="stable")
    kept = []
    points = np.ascontiguousarray(costs[left].T)
    while left.size:
        kept.append(left[0])
        better = points[0] < points[0, 0]
        for column in points[1:]:
            better |= column < column[0]
        left, points = left[better], points[:, better]
    return np.sort(np.array(kept, dtype=np.intp))


def _staircase(costs: Array) -> Index:
    """Return the front of three columns: points by the first, steps of the other two beside."""
    order = np.lexsort(costs.T[::-1])
    seconds: list[float] = []  # ascending, their thirds descending
    thirds: list[float] = []
    kept = []
    for row, (_, second, third) in zip(order.tolist(), costs[order].tolist(), strict=True):
        at = bisect_right(seconds, second)
        if at and thirds[at - 1] <= third:
            continue
        kept.append(row)
        start = bisect_left(seconds, second)
        end = start
        while end < len(thirds) and thirds[end] >= third:
            end += 1
        seconds[start:end] = [second]
        thirds[start:end] = [third]
    return np.sort(np.array(kept, dtype=np.intp))


def not_beaten(costs: Array, by: Array, slack: float = 0.0) -> Mask:
    """Say which points ``costs`` (n, k) no point of ``by`` (m, k) beats by a share ``slack``."""
    alive = np.ones(len(costs), dtype=bool)
    for point in by * (1.0 + slack):
        rows = np.flatnonzero(alive)
        alive[rows[(costs[rows] > point).all(axis=1)]] = False
    return alive


def champions(costs: Array, weights: Array) -> Array:
    """Return the best points ``(<= w, k)`` by weighted sums of logarithms, weights ``(w, k)``."""
    best = np.unique((np.log(costs) @ weights.T).argmin(axis=0))
    return np.asarray(costs[best])


def weights(k: int, count: int = 24) -> Array:
    """Return weight vectors ``(count, k)`` spread over the simplex, the same ones each time."""
    drawn = np.random.default_rng(20240229).exponential(size=(count, k))
    return np.vstack([np.eye(k) + 1e-3, drawn / drawn.sum(axis=1, keepdims=True)])
