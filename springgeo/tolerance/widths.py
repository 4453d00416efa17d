"""How wide tolerances may be for a wanted share of springs within the limits."""

from __future__ import annotations

from collections.abc import Callable

# nothing is looked for beyond so many times a tolerance
MOST = 10.0
_STEPS = 14


def widest(inside: Callable[[float], float], wanted: float) -> tuple[float | None, bool]:
    """Return the greatest factor on tolerances with which a wanted share is inside.

    By bisection: of several that just do, one is found. True beside it where ``MOST`` times is
    still good enough.

    Parameters
    ----------
    inside : callable
        Share inside by the factor.
    wanted : float
        0 to 1.
    """
    if inside(0.0) < wanted:
        return None, False
    if inside(MOST) >= wanted:
        return MOST, True
    low, high = 0.0, MOST
    if inside(1.0) >= wanted:
        low = 1.0
    else:
        high = 1.0
    for _ in range(_STEPS):
        middle = (low + high) / 2
        if inside(middle) >= wanted:
            low = middle
        else:
            high = middle
    return low, False
