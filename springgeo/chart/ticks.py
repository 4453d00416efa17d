"""Round values to name on an axis."""

from __future__ import annotations

import math


def linear(low: float, high: float, most: int = 6) -> list[float]:
    """Return round numbers in even steps within a range, at most so many.

    Examples
    --------
    >>> linear(0.0, 33.0)
    [0.0, 10.0, 20.0, 30.0]
    """
    span = high - low
    if not span > 0:
        return [low]
    step = 10.0 ** math.floor(math.log10(span / most))
    for factor in (1, 2, 2.5, 5, 10):
        if span / (factor * step) <= most:
            step *= factor
            break
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [float(f"{k * step:.9g}") for k in range(first, last + 1)]


def logarithmic(low: float, high: float, most: int = 6) -> list[float]:
    """Return some round values of every decade, or even steps within a narrow span.

    Examples
    --------
    >>> logarithmic(3.0, 60.0)
    [5.0, 10.0, 20.0, 50.0]
    """
    if high / low <= 2.5:
        return linear(low, high, most)
    of_decade = (1, 2, 5) if high / low > 12 else (1, 1.5, 2, 3, 4, 5, 7)
    decades = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    marks = [float(f"{m * 10.0**e:.9g}") for e in decades for m in of_decade]
    return [m for m in marks if low <= m <= high]
