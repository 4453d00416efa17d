"""Numbers on the page: each carries the path of the value in the summary it shows."""

from __future__ import annotations

import html
import math
from typing import Any


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
    return _set("0" if text == "-0" else text)


def fixed(x: float, places: int = 2) -> str:
    """Return a number with so many decimals, for columns that are compared.

    Examples
    --------
    >>> fixed(1.5), fixed(-0.001)
    ('1.50', '0.00')
    """
    return _set(f"{round(x, places) + 0.0:.{places}f}")


def _set(text: str) -> str:
    """Return digits as they are printed: a true minus, a thin space in long numbers."""
    whole, point, rest = text.replace("-", "−").partition(".")
    if len(whole.lstrip("−")) > 4:
        for i in range(len(whole) - 3, 1 if whole[0] == "−" else 0, -3):
            whole = whole[:i] + "\u202f" + whole[i:]
    return whole + point + rest


def escaped(text: object) -> str:
    """Return text fit for HTML content and attributes."""
    return html.escape(str(text), quote=True)


class Values:
    """The summary as shown: ``values("points.0.load", unit="N")`` gives an element for it.

    Parameters
    ----------
    data : dict
        The summary as JSON holds it.
    """

    def __init__(self, data: dict[str, Any]) -> None:
        self._data = data

    def at(self, path: str) -> Any:
        """Return the value at a path of keys and positions, such as ``points.0.load``."""
        value: Any = self._data
        for key in path.split("."):
            value = value[int(key)] if isinstance(value, list) else value[key]
        return value

    def __call__(
        self,
        path: str,
        unit: str = "",
        digits: int = 4,
        *,
        scale: float = 1.0,
        places: int | None = None,
    ) -> str:
        """Return the value as a ``data`` element with its unit, or a dash where there is none.

        ``digits`` are significant ones; ``places``, if given, decimals instead.
        """
        value = self.at(path)
        gap = "" if unit == "°" else "&nbsp;"
        after = f'{gap}<span class="unit">{escaped(unit)}</span>' if unit else ""
        if value is None:
            return '<span class="none">–</span>'
        if isinstance(value, str):
            text = escaped(value)
            return f'<data value="{text}" data-path="{escaped(path)}">{text}</data>'
        shown = number(scale * value, digits) if places is None else fixed(scale * value, places)
        return (
            f'<data value="{value!r}" data-path="{escaped(path)}" data-scale="{scale!r}">{shown}'
            f"</data>{after}"
        )
