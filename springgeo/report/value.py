"""Numbers on the page: each carries the path of the value in the summary it shows."""

from __future__ import annotations

from typing import Any

from springgeo.report.html import Markup
from springgeo.text.number import fixed, number

__all__ = ["Values", "fixed", "number"]


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
    ) -> Markup:
        """Return the value as a ``data`` element with its unit, or a dash where there is none.

        ``digits`` are significant ones; ``places``, if given, decimals instead.
        """
        value = self.at(path)
        if value is None:
            return Markup('<span class="none">–</span>')
        if isinstance(value, str):
            return Markup('<data value="{0}" data-path="{1}">{0}</data>').format(value, path)
        shown = number(scale * value, digits) if places is None else fixed(scale * value, places)
        cell = Markup('<data value="{}" data-path="{}" data-scale="{}">{}</data>')
        return cell.format(repr(value), path, repr(scale), shown) + united(unit)


def united(unit: str) -> Markup:
    """Return a unit as it follows its number, or nothing."""
    gap = "" if unit == "°" else "\u00a0"
    return Markup('{}<span class="unit">{}</span>').format(gap, unit) if unit else Markup("")
