"""The one writer of SVG: elements with escaped attributes, paths from points."""

from __future__ import annotations

import html
from collections.abc import Iterable

Value = str | int | float | None


def element(tag: str, *inside: str, **attributes: Value) -> str:
    """Return an element; attributes of None are left out, ``_`` in their names is a hyphen.

    Examples
    --------
    >>> element("circle", class_="point", cx=1.0, r=5)
    '<circle class="point" cx="1" r="5"/>'
    """
    named = "".join(
        f' {k.rstrip("_").replace("_", "-")}="{_value(v)}"'
        for k, v in attributes.items()
        if v is not None
    )
    return f"<{tag}{named}>{''.join(inside)}</{tag}>" if inside else f"<{tag}{named}/>"


def escaped(text: str) -> str:
    """Return text fit for an element or an attribute."""
    return html.escape(text, quote=True)


def coordinate(v: float) -> str:
    """Return a coordinate to a tenth, as short as it can be.

    Examples
    --------
    >>> coordinate(2.04), coordinate(-0.01), coordinate(13.25)
    ('2', '0', '13.2')
    """
    text = f"{v:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def path(points: Iterable[tuple[float, float]], *, closed: bool = False) -> str:
    """Return the commands of a path through points, to a tenth of a unit."""
    way = "L".join(f"{coordinate(u)} {coordinate(v)}" for u, v in points)
    return f"M{way}{'Z' if closed else ''}"


def _value(v: str | float) -> str:
    return escaped(v) if isinstance(v, str) else coordinate(v)
