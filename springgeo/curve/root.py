"""One scalar root, bracketed: enough for the few closed forms an end style needs."""

from __future__ import annotations

from collections.abc import Callable

_EPS = 2.0**-52


def bisect(f: Callable[[float], float], low: float, high: float) -> float:
    """Return where ``f`` goes from positive (at ``low``) to not positive (at ``high``).

    Neither limit is itself evaluated: halves until both signs have been met, then hands over to
    ``_between``.
    """
    below = above = None
    for _ in range(100):
        mid = (low + high) / 2
        if mid in (low, high):
            break
        value = f(mid)
        if value > 0:
            low, below = mid, value
        else:
            high, above = mid, value
        if below is not None and above is not None:
            newest, other = ((low, below), (high, above))[:: 1 if value > 0 else -1]
            return _between(f, newest, other)
    return (low + high) / 2


def _between(
    f: Callable[[float], float], newest: tuple[float, float], other: tuple[float, float]
) -> float:
    """Return the root between two places, given as (place, value) with values of unlike sign.

    Inverse quadratic interpolation where three values make it safe, halving where not: a smooth
    root takes about eight calls, a step fifty (T. R. Chandrupatla, Advances in Engineering
    Software 28 (1997) 145, from memory).
    """
    (a, fa), (b, fb) = newest, other
    share = 0.5
    for _ in range(100):
        x = a + share * (b - a)
        fx = f(x)
        if (fx > 0) == (fa > 0):
            c, fc = a, fa
        else:
            c, fc, b, fb = b, fb, a, fa
        a, fa = x, fx
        best, value = (a, fa) if abs(fa) < abs(fb) else (b, fb)
        least = _EPS * abs(best) / abs(b - a) if b != a else 1.0
        if value == 0 or least > 0.5:
            return best
        share = min(1 - least, max(least, _share((a, fa), (b, fb), (c, fc))))
    return (a + b) / 2


def _share(
    newest: tuple[float, float], other: tuple[float, float], last: tuple[float, float]
) -> float:
    """Return how far from ``newest`` toward ``other`` to look next."""
    (a, fa), (b, fb), (c, fc) = newest, other, last
    xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
    if not (phi**2 < xi and (1 - phi) ** 2 < 1 - xi):
        return 0.5
    return fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
