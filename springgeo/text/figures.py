"""Numbers for people: as many figures as are worth reading, and no exponent."""

from __future__ import annotations

import math


def figures(x: float, digits: int = 4) -> str:
    """Return a number with so many significant figures, digits before the point all kept.

    Examples
    --------
    >>> figures(277.95946), figures(0.0123456, 3), figures(123456.7), figures(-0.0), figures(40.0)
    ('278', '0.0123', '123457', '0', '40')
    """
    if x == 0 or not math.isfinite(x):
        return "0" if x == 0 else str(x)
    places = max(digits - 1 - math.floor(math.log10(abs(x))), 0)
    text = f"{x:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def outward(x: float, digits: int, *, up: bool) -> float:
    """Return a number of so many significant figures that is not less, or not more.

    Examples
    --------
    >>> outward(21.3344, 4, up=True), outward(2.5179, 4, up=False), outward(12.0, 4, up=True)
    (21.34, 2.517, 12.0)
    """
    if x == 0 or not math.isfinite(x):
        return x
    places = digits - 1 - math.floor(math.log10(abs(x)))
    near = round(x, places)
    # what rounding errors alone put beyond is at it
    if abs(near - x) <= 1e-12 * abs(x):
        return near
    step = 10.0**-places
    return (
        round(near + step, places)
        if up and near < x
        else (round(near - step, places) if not up and near > x else near)
    )


def to_tolerance(x: float, off: float) -> str:
    """Return a value that may be ``off`` by so much: its last place worth a tenth of that at most.

    Examples
    --------
    >>> to_tolerance(16.3725, 0.5), to_tolerance(0.43064, 0.0118), to_tolerance(127.96, 1.2)
    ('16.37', '0.431', '128')
    """
    places = max(math.ceil(1 - math.log10(off) - 1e-9), 0)
    return figures(round(x, places), 15)


def to_places(x: float, behind: int) -> str:
    """Return a length to so many places behind the point, below 1 to four figures.

    Examples
    --------
    >>> to_places(277.95946, 2), to_places(10.94329, 3), to_places(0.123456, 2), to_places(12.0, 2)
    ('277.96', '10.943', '0.1235', '12')
    """
    return figures(x, 4) if abs(x) < 1 else figures(round(x, behind), 15)
