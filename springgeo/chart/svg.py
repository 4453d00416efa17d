"""A diagram as SVG: for a page that styles it by class, or a sheet that brings its colours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from springgeo.chart.element import coordinate, element, escaped, path
from springgeo.chart.layout import Layout
from springgeo.chart.model import (
    Area,
    Chart,
    Dots,
    Item,
    Key,
    Line,
    Marks,
    Point,
    Rule,
    Shape,
    Stripe,
)
from springgeo.chart.pen import INLINE, PAGE, Pen
from springgeo.chart.place import width

# of a drawing on a page, which scales it: letters stay readable on a phone
WIDE, HIGH, LETTER = 400.0, 290.0, 13.5
_R = 5.0


def drawing(chart: Chart, wide: float = WIDE, high: float = HIGH) -> str:
    """Return a diagram for a page that has the style sheet ``springgeo.chart.style.sheet()``."""
    layout = Layout(chart, wide, high, LETTER)
    name = chart.name
    told = element("desc", escaped(chart.told), id=f"{name}-d") if chart.told else ""
    return element(
        "svg",
        element("title", escaped(chart.title), id=f"{name}-t"),
        told,
        *_Drawn(layout, PAGE).everything(),
        class_="chart",
        viewBox=f"0 0 {wide:g} {high:g}",
        role="img",
        aria_labelledby=f"{name}-t {name}-d" if told else f"{name}-t",
    )


def panel(layout: Layout, pen: Pen = INLINE) -> str:
    """Return the inside of a diagram, to stand in a drawing with others."""
    return "".join(_Drawn(layout, pen).everything())


def key(entry: Key, pen: Pen = PAGE) -> str:
    """Return the sign of a legend's entry, 28 by 16 units."""
    if entry.shape == "line":
        return element("path", d="M1 8H27", **pen.line(entry.role))
    if entry.shape == "area":
        return element("rect", x=1, y=2, width=26, height=12, **pen.line(entry.role))
    if entry.shape == "dot":
        return element("circle", cx=14, cy=8, r=4, **pen.mark(entry.role))
    return mark(14, 8, entry.role, entry.shape, pen)


def mark(u: float, v: float, role: str, shape: Shape | str, pen: Pen) -> str:
    """Return a mark at a place of the drawing."""
    look = pen.mark(role)
    if shape == "circle":
        return element("circle", cx=u, cy=v, r=_R, **look)
    if shape == "ring":
        return element("circle", cx=u, cy=v, r=_R, **pen.ring(role))
    if shape == "square":
        return element("rect", x=u - 4.5, y=v - 4.5, width=9, height=9, **look)
    corners = {
        "diamond": ((0, -6.4), (6.4, 0), (0, 6.4), (-6.4, 0)),
        "triangle": ((0, -6), (5.6, 4.4), (-5.6, 4.4)),
        "wedge": ((0, 6), (5.6, -4.4), (-5.6, -4.4)),
        "plus": _CROSS,
        "cross": tuple(((x - y) * 0.71, (x + y) * 0.71) for x, y in _CROSS),
    }[shape]
    return element("path", d=path([(u + x, v + y) for x, y in corners], closed=True), **look)


_ARM, _END = 1.7, 5.6
_CROSS = (
    *((-_ARM, -_END), (_ARM, -_END), (_ARM, -_ARM), (_END, -_ARM), (_END, _ARM), (_ARM, _ARM)),
    *((_ARM, _END), (-_ARM, _END), (-_ARM, _ARM), (-_END, _ARM), (-_END, -_ARM), (-_ARM, -_ARM)),
)


@dataclass(frozen=True)
class _Drawn:
    """One diagram in its layout, drawn with a pen."""

    layout: Layout
    pen: Pen

    def everything(self) -> Iterator[str]:
        """Yield elements from the back to the front."""
        chart = self.layout.chart
        for item in chart.items:
            if isinstance(item, Stripe | Area):
                yield from self._item(item)
        yield from self._axes()
        for item in chart.items:
            if not isinstance(item, Stripe | Area):
                yield from self._item(item)
        for s, u, v in self.layout.stripes:
            yield self._text(u, v, s.text, "middle", "small")
        yield from self._labels()
        if chart.follows:
            yield self._follower()

    def _item(self, item: Item) -> Iterator[str]:
        at, e = self.layout.at, self.layout.edges
        if isinstance(item, Stripe):
            u, w = self.layout.span(item)
            look = self.pen.line(item.role)
            yield element("rect", x=u, y=e.top, width=w - u, height=e.bottom - e.top, **look)
        elif isinstance(item, Area):
            way = path((at(*p) for p in item.points), closed=True)
            yield element("path", d=way, **self.pen.line(item.role))
        elif isinstance(item, Line):
            yield element("path", d=path(at(*p) for p in item.points), **self.pen.line(item.role))
        elif isinstance(item, Dots):
            spots = ((coordinate(u), coordinate(v)) for u, v in (at(*p) for p in item.points))
            way = "".join(f"M{u} {v}h0" for u, v in spots)
            yield element("path", d=way, **self.pen.dots(item.role))
        elif isinstance(item, Marks):
            yield from self._marks(item)
        elif isinstance(item, Rule):
            yield from self._rule(item)

    def _marks(self, item: Marks) -> Iterator[str]:
        for (x, y), reach in zip(item.points, item.reach, strict=False):
            ends = [self.layout.at(x, y + k * reach) for k in (-1, 1)]
            yield element("path", d=path(ends), **self.pen.bar())
        for p in item.points:
            yield mark(*self.layout.at(*p), item.role, item.shape, self.pen)

    def _rule(self, item: Rule) -> Iterator[str]:
        e = self.layout.edges
        u = self.layout.at(item.x, self.layout.chart.y.low)[0]
        yield element("path", d=path([(u, e.top), (u, e.bottom)]), **self.pen.line(item.role))
        turn = f"translate({coordinate(u + 4)} {coordinate(e.top + 4)}) rotate(90)"
        yield element("text", escaped(item.text), transform=turn, **self.pen.text("small"))

    def _axes(self) -> Iterator[str]:
        chart, e, size = self.layout.chart, self.layout.edges, self.layout.size
        across, up = self.layout.ticks
        for x in across:
            u = self.layout.at(x, chart.y.low)[0]
            yield self._grid((u, e.top), (u, e.bottom))
            yield self._text(u, e.bottom + 1.15 * size, chart.x.tick(x), "middle", "tick")
        for y in up:
            v = self.layout.at(chart.x.low, y)[1]
            yield self._grid((e.left, v), (e.right, v))
            yield self._text(e.left - 6, v + 0.35 * size, chart.y.tick(y), "end", "tick")
        way = path([(e.left, e.top), (e.left, e.bottom), (e.right, e.bottom)])
        yield element("path", d=way, **self.pen.axis())
        bottom = e.bottom + 2.6 * size
        yield self._text((e.left + e.right) / 2, bottom, chart.x.name, "middle", "name")
        yield self._text(min(2.0, e.left), e.top - 0.9 * size, chart.y.name, "start", "name")

    def _grid(self, a: Point, b: Point) -> str:
        return element("path", d=path([a, b]), **self.pen.grid())

    def _labels(self) -> Iterator[str]:
        for label, spot in self.layout.spots:
            if spot.far:
                ends = [self.layout.at(label.x, label.y), (spot.u, spot.v - 4)]
                yield element("path", d=path(ends), **self.pen.line("leader"))
        for label, spot in self.layout.spots:
            yield self._text(spot.u, spot.v, label.text, spot.side, "label")

    def _text(self, u: float, v: float, text: str, side: str, kind: str) -> str:
        return element("text", escaped(text), x=u, y=v, text_anchor=side, **self.pen.text(kind))

    def _follower(self) -> str:
        """Return a mark that a script moves: place = first + step times value, on both axes."""
        chart, at = self.layout.chart, self.layout.at
        u, v = at(0.0, 0.0)
        steps = at(1.0, 1.0)
        start = at(chart.x.low, chart.y.low)
        return (
            f'<circle id="{chart.name}-here" class="c-here" cx="{start[0]:.1f}" '
            f'cy="{start[1]:.1f}" r="6.5" data-x0="{u:.6f}" data-x1="{steps[0] - u:.6f}" '
            f'data-y0="{v:.6f}" data-y1="{steps[1] - v:.6f}"/>'
        )


def rows(entries: Sequence[Key], wide: float, size: float) -> tuple[str, float]:
    """Return a legend in rows of at most so wide, and its height."""
    parts, u, v = [], 0.0, 0.0
    for entry in entries:
        room = 44 + width(entry.words, size)
        if u + room > wide and u > 0:
            u, v = 0.0, v + 1.6 * size
        sign = element("g", key(entry, INLINE), transform=f"translate({u:g} {v:g})")
        parts += [sign, element("text", escaped(entry.words), x=u + 34, y=v + 12)]
        u += room
    return "".join(parts), v + 1.6 * size
