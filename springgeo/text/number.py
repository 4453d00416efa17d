"""Numbers as they are printed: significant digits, a true minus, a thin space in long ones."""

from __future__ import annotations

import math


def number(x: float, digits: int = 4) -> str:
    """Return a number with so many significant digits, without an exponent.

    Examples
    --------
    >>> number(1234.56), number(0.0123456, 3), number(40.0), number(-0.0)
    ('1235', '0.0123', '40', '0')
    """
    if x == 0 or not math.isfinite(x):
        return "0" if x == 0 else str(x)
    places = digits - 1 - math.floor(math.log10(abs(x)))
    rounded = round(x, places)
    text = f"{rounded:.{max(places, 0)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return spaced("0" if text == "-0" else text)


def fixed(x: float, places: int = 2) -> str:
    """Return a number with so many decimals, for columns that are compared.

    Examples
    --------
    >>> fixed(1.5), fixed(-0.001)
    ('1.50', '0.00')
    """
    return spaced(f"{round(x, places) + 0.0:.{places}f}")


def spaced(text: str) -> str:
    """Return a number in digits with a true minus and thin spaces between thousands.

    Examples
    --------
    >>> spaced("1000000") == "1\u202f000\u202f000", spaced("1e+12")
    (True, '1e+12')
    """
    if "e" in text:
        return text.replace("-", "−")
    whole, point, rest = text.replace("-", "−").partition(".")
    if len(whole.lstrip("−")) > 4:
        for i in range(len(whole) - 3, 1 if whole[0] == "−" else 0, -3):
            whole = whole[:i] + "\u202f" + whole[i:]
    return whole + point + rest
