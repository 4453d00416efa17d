"""How thick a part may be, and how far it has to go: what is told of one that does not fit."""

from __future__ import annotations

from collections.abc import Callable

# wire that is nearer than this, mm, meets
MEETS = -1e-6
# so often a way is doubled before none is enough
_DOUBLED = 5


def greatest(high: float, fine: float, distance: Callable[[float], float]) -> float:
    """Return the greatest diameter up to ``high``, mm, to ``fine``; 0 if even a thin part meets.

    ``distance`` of a diameter: from the part to the wire, mm, below zero where they meet.
    """
    low = 0.0
    while high - low > fine:
        middle = (low + high) / 2
        low, high = (middle, high) if distance(middle) > MEETS else (low, middle)
    return low


def least(low: float, fine: float, distance: Callable[[float], float]) -> float | None:
    """Return the least way from ``low`` on, mm, that clears, to ``fine``; None if none does.

    ``distance`` of a way: from the part to the wire, mm, below zero where they meet.
    """
    high, tries = low, 0
    while distance(high) <= MEETS:
        if tries == _DOUBLED:
            return None
        low, high, tries = high, 2 * high, tries + 1
    while high - low > fine:
        middle = (low + high) / 2
        low, high = (low, middle) if distance(middle) > MEETS else (middle, high)
    return high
