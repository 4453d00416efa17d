"""Pictures and diagrams of a note, each an SVG document that stands alone."""

from __future__ import annotations

from dataclasses import replace

from springgeo.chart import Chart, keys, svg
from springgeo.chart.element import element
from springgeo.chart.layout import Layout
from springgeo.chart.style import ink
from springgeo.note.model import Picture
from springgeo.text.shown import Shown

_WIDE, _HIGH, _LETTER = 460.0, 250.0, 11.5
_FONT = "Libertinus Serif, Georgia, serif"


def diagram(chart: Chart, caption: str, shown: Shown, width: float = 1.0) -> Picture:
    """Return a diagram with its legend below."""
    drawn = replace(chart.shown(shown), follows=False)
    inside = svg.panel(Layout(drawn, _WIDE, _HIGH, _LETTER))
    legend, high = svg.rows(keys(drawn), _WIDE, _LETTER)
    whole = element(
        "svg",
        inside,
        element("g", legend, transform=f"translate(0 {_HIGH + 4:g})"),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {_WIDE:g} {_HIGH + high + 8:g}",
        width=f"{_WIDE:g}",
        height=f"{_HIGH + high + 8:g}",
        font_family=_FONT,
        font_size=f"{_LETTER:g}",
        fill=ink("ink").light,
    )
    return Picture(whole, caption, drawn.name, width)
