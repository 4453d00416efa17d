"""How an SVG diagram gets its looks: by classes of a page's style, or written into each element."""

from __future__ import annotations

from typing import Protocol

from springgeo.chart.element import Value
from springgeo.chart.style import BAR, STYLES, Style, ink, marked

Look = dict[str, Value]


class Pen(Protocol):
    """Gives the attributes of lines, marks and letters."""

    def line(self, role: str) -> Look:
        """Return those of a line, or of a fill that has one."""

    def mark(self, role: str) -> Look:
        """Return those of a mark."""

    def ring(self, role: str) -> Look:
        """Return those of a mark that is seen through."""

    def dots(self, role: str) -> Look:
        """Return those of a line of no length with round ends."""

    def bar(self) -> Look:
        """Return those of a bar through a mark."""

    def grid(self) -> Look:
        """Return those of a line of the grid."""

    def axis(self) -> Look:
        """Return those of the axes."""

    def text(self, kind: str) -> Look:
        """Return those of letters: tick, name, small, label."""


class _Page:
    """Classes alone: a page's policy may forbid styles within elements."""

    def line(self, role: str) -> Look:
        return {"class_": f"c-{role}"}

    def mark(self, role: str) -> Look:
        return {"class_": f"c-{role} mark"}

    def ring(self, role: str) -> Look:
        return {"class_": f"c-{role}"}

    def dots(self, role: str) -> Look:
        return {"class_": f"c-{role} dots"}

    def bar(self) -> Look:
        return {"class_": "c-bar"}

    def grid(self) -> Look:
        return {"class_": "grid"}

    def axis(self) -> Look:
        return {"class_": "axis"}

    def text(self, kind: str) -> Look:
        return {"class_": kind}


class _Inline:
    """Colours on white paper, in every element."""

    def line(self, role: str) -> Look:
        return _written(STYLES[role])

    def mark(self, role: str) -> Look:
        return _written(marked(role))

    def ring(self, role: str) -> Look:
        style = STYLES[role]
        return _written(style._replace(fill="card", dash=())) | {"fill_opacity": "0.7"}

    def dots(self, role: str) -> Look:
        return _written(STYLES[role]._replace(width=4, dash=())) | {
            "stroke_linecap": "round",
            "stroke_opacity": "0.55",
        }

    def bar(self) -> Look:
        return _written(BAR)

    def grid(self) -> Look:
        return _written(Style("grid", 1.0))

    def axis(self) -> Look:
        return _written(Style("soft", 1.2))

    def text(self, kind: str) -> Look:
        look: Look = {"fill": ink("ink" if kind == "label" else "soft").light}
        if kind == "label":
            look |= {
                "font_weight": "bold",
                "paint_order": "stroke",
                "stroke": ink("card").light,
                "stroke_width": 4,
            }
        return look


def _written(style: Style) -> Look:
    dash = " ".join(f"{v:g}" for v in style.dash) or None
    return {
        "fill": ink(style.fill).light if style.fill else "none",
        "stroke": ink(style.line).light if style.line else None,
        "stroke_width": f"{style.width:g}" if style.line else None,
        "stroke_dasharray": dash if style.line else None,
    }


PAGE, INLINE = _Page(), _Inline()
