"""One answer's spread: mean, deviation, what holds 99.73 % of the springs, share inside."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.results.tolerance import Histogram, Spread
from springgeo.tolerance.indices import Indices
from springgeo.tolerance.limited import Limit
from springgeo.tolerance.strayed import Drawn
from springgeo.tolerance.truth import FATIGUE, Answer

# beyond which a normal distribution has 0.135 % on either side
_TAIL = 0.00135
_BINS = 60


def spread(
    answer: Answer,
    nominal: float,
    drawn: Drawn,
    limit: Limit | None,
    shares: tuple[Sequence[str], Indices, int],
    off_percent: float,
) -> Spread:
    """Return how an answer strays.

    Parameters
    ----------
    answer : Answer
    nominal : float
    drawn : Drawn
        Springs that cannot be made have no part in mean and deviation, and count as outside.
    limit : Limit, optional
    shares : (names, Indices, int)
        Names of what strays, indices, and the number of the answer there.
    off_percent : float
    """
    all_of_them = drawn.values[answer]
    values = all_of_them[drawn.possible]
    low, high = _tails(values)
    judged = answer.kind in ("margin", FATIGUE)
    inside = None
    if limit is not None:
        inside = drawn.inside({answer: limit})
    elif judged:
        inside = float(((all_of_them >= 1.0) & drawn.possible).mean())
    names, found, n = shares
    p = answer.point if answer.to is None or judged else None
    return Spread(
        quantity=answer.kind,
        number=None if p is None else p.number,
        load=None if p is None else p.load,
        length=None if p is None else p.length,
        place=answer.place or None,
        way=("along the wire" if answer.wire else "handbook") if judged else None,
        as_mounted=answer.mounted,
        nominal=nominal,
        mean=float(values.mean()),
        deviation=float(values.std()),
        low=low,
        high=high,
        limit_low=None if limit is None else limit.low,
        limit_high=None if limit is None else limit.high,
        limits_source=None if limit is None else limit.source,
        limits_known=None if limit is None else limit.known,
        inside=inside,
        off_percent=off_percent,
        first={name: float(found.first[i, n]) for i, name in enumerate(names)},
        total={name: float(found.total[i, n]) for i, name in enumerate(names)},
        histogram=_histogram(values),
    )


def _tails(values: Array) -> tuple[float, float]:
    """Return the values that 0.135 % of all lie beyond, on either side."""
    n = len(values) - 1
    at = round(_TAIL * n), round((1 - _TAIL) * n)
    parted = np.partition(values, at)
    return float(parted[at[0]]), float(parted[at[1]])


def _histogram(values: Array) -> Histogram:
    low, high = float(values.min()), float(values.max())
    if not high > low:
        return Histogram(edges=(low, low), counts=(len(values),))
    # numpy's own, for evenly wide bins, at a third of its time
    at = np.minimum(((values - low) * (_BINS / (high - low))).astype(np.intp), _BINS - 1)
    counts = np.bincount(at, minlength=_BINS)
    edges = np.linspace(low, high, _BINS + 1)
    return Histogram(edges=tuple(edges.tolist()), counts=tuple(counts.tolist()))
