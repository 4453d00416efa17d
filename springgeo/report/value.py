"""Numbers on the page: each carries the path of the value in the summary it shows."""

from __future__ import annotations

import html
from typing import Any

from springgeo.text.number import fixed, number

__all__ = ["Values", "escaped", "fixed", "number"]


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
