"""A sheet as plain data, in millimetres of paper; the writers of PDF, SVG and DXF read it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

import numpy as np

from springgeo.curve.frame import Array
from springgeo.drawing.measured import SOFT

Point = tuple[float, float]
Across = Literal["left", "center", "right"]


class Pen(NamedTuple):
    """Line width in mm, dash pattern in mm (empty: continuous), colour number of a DXF layer."""

    width: float
    dash: tuple[float, ...] = ()
    colour: int = 7


LAYERS: dict[str, Pen] = {
    "OUTLINE": Pen(0.35),
    "FITTING": Pen(0.25, (), 4),
    "BREAK": Pen(0.18),
    "CENTRE": Pen(0.18, (6.0, 1.2, 0.8, 1.2), 1),
    "DIMENSION": Pen(0.18, (), 3),
    "DIAGRAM": Pen(0.5, (), 5),
    "DIAGRAM-THIN": Pen(0.18, (), 5),
    "DATA": Pen(0.18, (), 8),
    "NOTES": Pen(0.18, (), 8),
    "TITLE": Pen(0.35, (), 7),
    "FRAME": Pen(0.7, (), 7),
    "MARK": Pen(0.7, (), 1),
}


@dataclass(frozen=True)
class Line:
    """A polyline ``(n, 2) float, mm``; ``filled`` for arrowheads."""

    layer: str
    points: Array
    filled: bool = False


@dataclass(frozen=True)
class Text:
    """One line of text: ``height`` is that of capitals, mm; y is the baseline."""

    layer: str
    at: Point
    text: str
    height: float
    across: Across = "left"
    turned: bool = False


@dataclass(frozen=True)
class LinearDim:
    """A dimension between two points; its line passes through ``base``.

    ``label`` holds ``<>`` where the measured value stands; ``value`` is that value in mm of the
    spring, ``shown`` the same as it is printed. ``key`` names the summary's field it must equal.
    ``out`` puts the text beside the arrows: -1 before the first, 1 after the second, ``aside`` mm
    further from them than need be. ``second`` is the same in other units, which stands on the other
    side of the line.
    """

    start: Point
    end: Point
    base: Point
    upright: bool
    value: float
    label: str
    key: str
    out: int = 0
    shown: str = ""
    second: str = ""
    aside: float = 0.0

    @property
    def text(self) -> str:
        """The label as printed."""
        return self.label.replace("<>", self.shown or number(self.value))


@dataclass(frozen=True)
class AngularDim:
    """The angle at ``centre`` from direction ``start`` to ``end``, degrees on the paper."""

    centre: Point
    start: float
    end: float
    radius: float
    value: float
    label: str
    key: str
    shown: str = ""

    @property
    def text(self) -> str:
        """The label as printed."""
        return self.label.replace("<>", self.shown or f"{number(self.value, 1)}°")


@dataclass
class Page:
    """A sheet of ``width`` by ``height`` mm, its views drawn at ``scale``."""

    width: float
    height: float
    scale: float
    title: str
    lines: list[Line] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    linear: list[LinearDim] = field(default_factory=list)
    angular: list[AngularDim] = field(default_factory=list)

    def line(self, layer: str, *points: Point) -> None:
        """Draw a polyline through points."""
        self.lines.append(Line(layer, np.array(points, dtype=float)))

    def box(self, layer: str, left: float, bottom: float, right: float, top: float) -> None:
        """Draw a rectangle."""
        corners = (left, bottom), (right, bottom), (right, top), (left, top), (left, bottom)
        self.line(layer, *corners)

    def text(
        self, layer: str, at: Point, text: str, height: float, across: Across = "left"
    ) -> None:
        """Write one line of text."""
        self.texts.append(Text(layer, at, text.replace(SOFT, ""), height, across))


def number(value: float, digits: int = 2) -> str:
    """Return a number with at most so many decimals, none of them idle zeros."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def spread(values: Iterable[float], gap: float, low: float, high: float) -> list[float]:
    """Return places for labels in ascending order, at least ``gap`` apart, near their values."""
    places = list(values)
    for i in range(1, len(places)):
        places[i] = max(places[i], places[i - 1] + gap)
    if places and places[-1] > high:
        places[-1] = high
        for i in range(len(places) - 2, -1, -1):
            places[i] = max(low, min(places[i], places[i + 1] - gap))
    return places
