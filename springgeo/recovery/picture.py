"""The residual as a picture: the spring coloured by how far its points lie off, and a diagram."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from springgeo.chart import Axis, Chart, Dots, Item, Line, Stripe, keys
from springgeo.chart.element import element, escaped
from springgeo.chart.layout import Layout
from springgeo.chart.pen import INLINE
from springgeo.chart.style import ink
from springgeo.chart.svg import panel, rows
from springgeo.colours import INKS, of_share
from springgeo.curve.frame import Array
from springgeo.picture import spring_svg
from springgeo.recovery.residual import Residual
from springgeo.spring.geometry import Geometry
from springgeo.text.shown import PLAIN

_WIDE, _HIGH, _EDGE, _LETTER = 720.0, 260.0, 16.0, 12.0
# distance at which the ramp reaches its last colour for what is within, in wire diameters
_FULL = 0.1
_UNSEEN = INKS["card"].light
# a stretch of wire looked at as one, in wire diameters
_WINDOW = 0.5


def residual_svg(name: str, g: Geometry, residual: Residual) -> str:
    """Return the picture as an SVG document; the same input, the same bytes."""
    d, length = g.wire_diameter, g.path.length
    paint = _Paint(residual.s, residual.off, d, length)
    shown = spring_svg(
        g.path, d, parts=g.parts, width=int(_WIDE - 2 * _EDGE), title=name, paint=paint.at
    )
    height = float(shown.split('height="', 1)[1].split('"', 1)[0])
    chart = residual_chart(g, residual).shown(PLAIN)
    diagram = panel(Layout(chart, _WIDE - 2 * _EDGE, _HIGH, _LETTER), INLINE)
    legend, high = rows(keys(chart), _WIDE - 2 * _EDGE, _LETTER)
    top, middle = 64.0, 64.0 + height + 16
    whole = middle + _HIGH + high + 24
    heading = f"{name}: distance of the points from the wire found"
    below = f"pale: none, dark: {_FULL:g} wire diameters, crimson: more, white: no points seen"
    return element(
        "svg",
        element("title", escaped(heading)),
        element("rect", width="100%", height="100%", fill=ink("card").light),
        element("text", escaped(heading[:90]), x=_EDGE, y=26, font_size=15),
        element("text", escaped(below), x=_EDGE, y=46),
        element("g", shown, transform=f"translate({_EDGE:g} {top:g})"),
        element("g", diagram, transform=f"translate({_EDGE:g} {middle:g})"),
        element("g", legend, transform=f"translate({_EDGE:g} {middle + _HIGH + 8:g})"),
        xmlns="http://www.w3.org/2000/svg",
        width=f"{_WIDE:g}",
        height=f"{whole:.0f}",
        viewBox=f"0 0 {_WIDE:g} {whole:.0f}",
        font_family="sans-serif",
        font_size=f"{_LETTER:g}",
        fill=ink("ink").light,
    )


def residual_chart(g: Geometry, residual: Residual) -> Chart:
    """Return distance of the points from the surface over the length along the wire."""
    s, off, rms = residual.s, residual.off, residual.rms
    reach = max(4 * rms, float(np.quantile(np.abs(off), 0.995)) if len(off) else 0.0, 1e-6)
    x = Axis(0.0, g.path.length, "length along the wire", kind="length")
    y = Axis(-reach, reach, "distance outside the surface", kind="length")
    return Chart(
        x=x,
        y=y,
        title="residual",
        items=tuple(_items(g, s, off, rms, reach)),
        told=f"Points lie {rms:.3g} mm (root mean square) off the surface of the wire found.",
        name="residual",
    )


def _items(g: Geometry, s: Array, off: Array, rms: float, reach: float) -> Iterator[Item]:
    path = g.path
    at = 0.0
    for piece in path.pieces:
        role = piece.role if piece.role in ("body", "bend", "loop") else "straight"
        yield Stripe(at, at + piece.segment.length, role)
        at += piece.segment.length
    step = max(1, len(s) // 1500)
    kept = np.abs(off) <= reach
    points = tuple(zip(s[kept][::step].tolist(), off[kept][::step].tolist(), strict=True))
    if points:
        yield Dots(points, "series-0", "points")
    for sign in (1, -1):
        line = ((0.0, sign * rms), (path.length, sign * rms))
        yield Line(line, "limit", "root mean square" if sign > 0 else "")
    yield Line(((0.0, 0.0), (path.length, 0.0)), "zero", "surface found")


class _Paint:
    """Colours along the wire by the root mean square of the distances about each place."""

    def __init__(self, s: Array, off: Array, d: float, length: float) -> None:
        n = max(int(length / (_WINDOW * d)), 1)
        which = np.clip((s / length * n).astype(np.intp), 0, n - 1)
        count = np.bincount(which, minlength=n)
        square = np.bincount(which, weights=off**2, minlength=n)
        rms = np.sqrt(square / np.maximum(count, 1))
        # the ramp's last colour of what is within stands at a share of one
        self._colours = [
            of_share(float(r / (_FULL * d))) if c else _UNSEEN
            for r, c in zip(rms, count, strict=True)
        ]
        self._length = length

    def at(self, s: Array) -> Sequence[str]:
        """Return a colour for each arc length ``(n,)``, mm."""
        n = len(self._colours)
        places = np.clip((s / self._length * n).astype(np.intp), 0, n - 1)
        return [self._colours[i] for i in places.tolist()]
