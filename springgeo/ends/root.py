"""One scalar root, by halving: enough for the few closed forms an end style needs."""

from __future__ import annotations

from collections.abc import Callable


def bisect(f: Callable[[float], float], low: float, high: float) -> float:
    """Return where ``f`` goes from positive (at ``low``) to not positive (at ``high``)."""
    for _ in range(100):
        mid = (low + high) / 2
        if mid in (low, high):
            break
        low, high = (mid, high) if f(mid) > 0 else (low, mid)
    return (low + high) / 2
