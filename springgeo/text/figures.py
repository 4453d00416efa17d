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


def millimetres(x: float) -> str:
    """Return a length in mm to the hundredth, below 1 mm to four figures.

    Examples
    --------
    >>> millimetres(277.95946), millimetres(0.123456), millimetres(-0.001), millimetres(12.0)
    ('277.96', '0.1235', '-0.001', '12')
    """
    return figures(x, 4) if abs(x) < 1 else figures(round(x, 2), 15)


def inches(x: float) -> str:
    """Return a length in inches to the thousandth, below 1 in to four figures.

    Examples
    --------
    >>> inches(10.94329), inches(0.0472441), inches(-0.001), inches(2.0)
    ('10.943', '0.04724', '-0.001', '2')
    """
    return figures(x, 4) if abs(x) < 1 else figures(round(x, 3), 15)
