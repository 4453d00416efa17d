"""Numbers on the page: each carries the path of the value in the summary it shows."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from markupsafe import escape

from springgeo.report.html import Markup
from springgeo.text.number import fixed, number
from springgeo.text.quantity import FINER, UNITS
from springgeo.text.shown import DECIMAL, PLAIN, Shown

__all__ = ["Values", "fixed", "number"]


class Values:
    """The summary as shown: ``values("points.0.load", "force")`` gives an element for it.

    Parameters
    ----------
    data : dict
        The summary as JSON holds it, in mm and N.
    shown : Shown
        The reader's units and language.
    """

    def __init__(self, data: dict[str, object], shown: Shown = PLAIN) -> None:
        self._data = data
        self.shown = replace(shown, typeset=True)
        self.say, self.text = self.shown.say, self.shown.text

    def html(self, template: str, /, **values: object) -> Markup:
        """Return a template, a literal, with markup put into it."""
        return Markup(escape(self.say(template))).format(**values)

    def unit(self, kind: str) -> str:
        """Return the unit that a kind of quantity is shown in."""
        return self.shown.unit(kind)

    def at(self, path: str) -> Any:
        """Return the value at a path of keys and positions, such as ``points.0.load``."""
        value: Any = self._data
        for key in path.split("."):
            value = value[int(key)] if isinstance(value, list) else value[key]
        return value

    def __call__(
        self,
        path: str,
        kind: str = "number",
        digits: int = 4,
        *,
        bare: bool = False,
        places: int | None = None,
    ) -> Markup:
        """Return the value as a ``data`` element with its unit, or a dash where there is none.

        ``kind`` is that of the quantity (`springgeo.text.quantity`); ``bare`` leaves the unit
        out. ``digits`` are significant ones; ``places``, if given, decimals instead. The element
        holds the value of the summary, and by what ``scale`` and ``offset`` it was shown.
        """
        value = self.at(path)
        if value is None:
            return Markup('<span class="none">–</span>')
        if isinstance(value, str):
            return Markup('<data value="{}" data-path="{}">{}</data>').format(
                value, path, self.say(value)
            )
        unit = UNITS[kind][self.shown.units]
        cell = Markup('<data value="{}" data-path="{}" data-scale="{}"{}>{}</data>')
        text = self.digits(kind, value, digits, places)
        return cell.format(
            repr(value),
            path,
            repr(unit.factor),
            Markup(f' data-offset="{unit.offset!r}"') if unit.offset else "",
            text,
        ) + ("" if bare else united(self.unit(kind)))

    def digits(self, kind: str, value: float, digits: int = 4, places: int | None = None) -> str:
        """Return a value of the inside unit as the reader's number, without its unit."""
        x = self.shown.convert(kind, value)
        if places is not None and self.shown.units == "inch":
            places += FINER.get(kind, 0)
        text = number(x, digits) if places is None else fixed(x, places)
        return text.replace(".", DECIMAL[self.shown.language])


def united(unit: str) -> Markup:
    """Return a unit as it follows its number, or nothing."""
    gap = "" if unit == "°" else "\u00a0"
    return Markup('{}<span class="unit">{}</span>').format(gap, unit) if unit else Markup("")
