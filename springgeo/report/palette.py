"""The colour scale for stress: even in lightness, fit for every kind of colour vision."""

from __future__ import annotations

import math
from functools import cache
from importlib.resources import files


@cache
def colours() -> tuple[str, ...]:
    """Return the 256 colours of viridis from low to high, as ``#rrggbb``."""
    lines = files(__package__).joinpath("assets/viridis.txt").read_text("ascii").splitlines()
    digits = "".join(x for x in lines if not x.startswith("#"))
    return tuple("#" + digits[i : i + 6] for i in range(0, len(digits), 6))


def colour(share: float) -> str:
    """Return the colour at a share of the scale, 0 to 1."""
    return colours()[min(255, max(0, round(255 * share)))]


def round_up(value: float) -> float:
    """Return the next number with two digits at or above a value: the end of a scale.

    Examples
    --------
    >>> round_up(1234.0), round_up(0.87), round_up(50.0)
    (1300.0, 0.87, 50.0)
    """
    if value <= 0:
        return 1.0
    step = 10.0 ** (math.floor(math.log10(value)) - 1)
    return float(f"{math.ceil(value / step - 1e-9) * step:.6g}")
