"""A small diagram in SVG: two axes, lines, bands, marks and labels; colours come from the page."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from springgeo.report.value import escaped, number

Point = tuple[float, float]
# the drawing's own size; a page scales it, so letters stay readable on a phone
WIDTH, HEIGHT = 400.0, 290.0
LEFT, RIGHT, TOP, BOTTOM = 50.0, 22.0, 26.0, 42.0
# height of a line of letters, and the mean width of one
LINE, LETTER = 15.0, 6.7


def ticks(low: float, high: float, most: int = 6) -> list[float]:
    """Return round numbers within a range, at most so many.

    Examples
    --------
    >>> ticks(0.0, 33.0)
    [0.0, 10.0, 20.0, 30.0]
    """
    span = high - low
    if not span > 0:
        return [low]
    step = 10.0 ** math.floor(math.log10(span / most))
    for factor in (1, 2, 2.5, 5, 10):
        if span / (factor * step) <= most:
            step *= factor
            break
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [float(f"{k * step:.9g}") for k in range(first, last + 1)]


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Return places near the wanted ones, at least ``gap`` apart and within a range if it can."""
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    places = [0.0] * len(wanted)
    before = low - gap
    for i in order:
        before = places[i] = max(wanted[i], before + gap)
    after = high + gap
    for i in reversed(order):
        after = places[i] = min(places[i], after - gap)
    return places


@dataclass
class Chart:
    """One diagram; ``x`` and ``y`` are the ranges of the axes."""

    x: Point
    y: Point
    x_name: str
    y_name: str
    title: str
    told: str
    width: float = WIDTH
    height: float = HEIGHT
    name: str = ""
    _back: list[str] = field(default_factory=list)
    _front: list[str] = field(default_factory=list)

    @property
    def edges(self) -> tuple[float, float, float, float]:
        """Left, right, top and bottom of the plot, in the drawing's units."""
        return LEFT, self.width - RIGHT, TOP, self.height - BOTTOM

    def at(self, x: float, y: float) -> Point:
        """Return the place of a point in the drawing's units."""
        left, right, top, bottom = self.edges
        return (
            left + (x - self.x[0]) / (self.x[1] - self.x[0]) * (right - left),
            bottom - (y - self.y[0]) / (self.y[1] - self.y[0]) * (bottom - top),
        )

    def line(self, points: Iterable[Point], kind: str) -> None:
        """Draw through points; ``kind`` is a class of the page's style."""
        self._front.append(f'<path class="{kind}" d="{self._path(points)}"/>')

    def area(self, points: Iterable[Point], kind: str) -> None:
        """Fill a polygon, behind everything else."""
        self._back.append(f'<path class="{kind}" d="{self._path(points)}Z"/>')

    def stripe(self, low: float, high: float, kind: str, text: str = "") -> None:
        """Fill from top to bottom between two places on the x axis; label it if there is room."""
        _, _, top, bottom = self.edges
        a, b = (self.at(min(max(v, self.x[0]), self.x[1]), 0.0)[0] for v in (low, high))
        self._back.append(
            f'<rect class="{kind}" x="{a:.1f}" y="{top:.1f}" width="{b - a:.1f}" '
            f'height="{bottom - top:.1f}"/>'
        )
        if text and LETTER * len(text) < b - a:
            self.letters((a + b) / 2, top + 12, text, "middle", "small")

    def mark(self, x: float, y: float, kind: str, shape: str = "circle") -> None:
        """Draw a mark: ``circle``, ``square``, ``diamond`` or ``ring``."""
        u, v = self.at(x, y)
        if shape in ("circle", "ring"):
            self._front.append(f'<circle class="{kind} {shape}" cx="{u:.1f}" cy="{v:.1f}" r="5"/>')
            return
        turned = f' transform="rotate(45 {u:.1f} {v:.1f})"' if shape == "diamond" else ""
        self._front.append(
            f'<rect class="{kind}" x="{u - 4.5:.1f}" y="{v - 4.5:.1f}" width="9" '
            f'height="9"{turned}/>'
        )

    def label(
        self, x: float, y: float, text: str, anchor: str = "start", dx: float = 8, dy: float = 4
    ) -> None:
        """Write beside a point of the plot."""
        u, v = self.at(x, y)
        self.letters(u + dx, v + dy, text, anchor, "label")

    def letters(self, u: float, v: float, text: str, anchor: str, kind: str) -> None:
        """Write at a place in the drawing's units."""
        self._front.append(
            f'<text class="{kind}" x="{u:.1f}" y="{v:.1f}" text-anchor="{anchor}">'
            f"{escaped(text)}</text>"
        )

    def raw(self, text: str) -> None:
        """Add an element as it is, in front."""
        self._front.append(text)

    def svg(self) -> str:
        """Return the drawing."""
        name = self.name or self.title.lower().replace(" ", "-")
        return (
            f'<svg class="chart" viewBox="0 0 {self.width:g} {self.height:g}" role="img" '
            f'aria-labelledby="{name}-t {name}-d"><title id="{name}-t">{escaped(self.title)}'
            f'</title><desc id="{name}-d">{escaped(self.told)}</desc>'
            + "".join(self._back)
            + self._axes()
            + "".join(self._front)
            + "</svg>"
        )

    def _axes(self) -> str:
        left, right, top, bottom = self.edges
        parts = []
        for x in ticks(*self.x, most=max(2, int((right - left) / 52))):
            u = self.at(x, self.y[0])[0]
            parts.append(f'<path class="grid" d="M{u:.1f} {top:.1f}V{bottom:.1f}"/>')
            parts.append(self._tick(u, bottom + 15, number(x), "middle"))
        for y in ticks(*self.y, most=max(2, int((bottom - top) / 34))):
            v = self.at(self.x[0], y)[1]
            parts.append(f'<path class="grid" d="M{left:.1f} {v:.1f}H{right:.1f}"/>')
            parts.append(self._tick(left - 6, v + 4.5, number(y), "end"))
        parts.append(f'<path class="axis" d="M{left:.1f} {top:.1f}V{bottom:.1f}H{right:.1f}"/>')
        middle = (left + right) / 2
        parts.append(self._tick(middle, self.height - 7, self.x_name, "middle", "name"))
        parts.append(self._tick(2, 13, self.y_name, "start", "name"))
        return "".join(parts)

    @staticmethod
    def _tick(u: float, v: float, text: str, anchor: str, kind: str = "tick") -> str:
        return (
            f'<text class="{kind}" x="{u:.1f}" y="{v:.1f}" text-anchor="{anchor}">'
            f"{escaped(text)}</text>"
        )

    def _path(self, points: Iterable[Point]) -> str:
        placed = [self.at(*p) for p in points]
        return "M" + "L".join(f"{u:.1f} {v:.1f}" for u, v in placed)


def legend(entries: Iterable[tuple[str, str, str]]) -> str:
    """Return a legend in HTML: (class, shape or ``line`` or ``area``, words)."""
    items = []
    for kind, shape, words in entries:
        if shape == "line":
            drawn = f'<path class="{kind}" d="M1 8H27"/>'
        elif shape == "area":
            drawn = f'<rect class="{kind}" x="1" y="2" width="26" height="12"/>'
        elif shape in ("circle", "ring"):
            drawn = f'<circle class="{kind} {shape}" cx="14" cy="8" r="5"/>'
        else:
            turned = ' transform="rotate(45 14 8)"' if shape == "diamond" else ""
            drawn = f'<rect class="{kind}" x="9.5" y="3.5" width="9" height="9"{turned}/>'
        items.append(
            f'<li><svg class="key" viewBox="0 0 28 16" aria-hidden="true">{drawn}</svg>'
            f"{escaped(words)}</li>"
        )
    return f'<ul class="legend">{"".join(items)}</ul>'
