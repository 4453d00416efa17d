"""A diagram as plain data: two axes and what lies between them. Nothing here draws."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, NamedTuple

from springgeo.chart.ticks import linear, logarithmic
from springgeo.text.number import number
from springgeo.text.shown import DECIMAL, Shown

Point = tuple[float, float]
Shape = Literal["circle", "square", "diamond", "triangle", "wedge", "plus", "cross", "ring"]


@dataclass(frozen=True)
class Axis:
    """A range of values, what they are, in words, their unit, and whether it is a log scale.

    ``kind`` is that of the quantity (`springgeo.text.quantity`), ``unit`` how it is written;
    ``Chart.shown`` fills it in. ``comma`` is the decimal sign.
    """

    low: float
    high: float
    words: str
    log: bool = False
    kind: str = "number"
    unit: str = ""
    comma: str = "."

    @property
    def name(self) -> str:
        """The words with their unit."""
        return f"{self.words}, {self.unit}" if self.unit else self.words

    def tick(self, value: float) -> str:
        """Return a value as it stands beside the axis."""
        return number(value).replace(".", self.comma)

    def share(self, value: float) -> float:
        """Return where a value lies between low (0) and high (1)."""
        if self.log:
            return math.log(value / self.low) / math.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)

    def ticks(self, most: int = 6) -> list[float]:
        """Return round values to name, at most so many on a plain scale."""
        return (logarithmic if self.log else linear)(self.low, self.high, most)


@dataclass(frozen=True)
class Through:
    """What goes through points; ``key`` is its entry in the legend, if it has one."""

    points: Sequence[Point]
    role: str
    key: str = ""


class Line(Through):
    """A line."""


class Area(Through):
    """A filled polygon, behind everything else."""


class Dots(Through):
    """Very many small marks."""


@dataclass(frozen=True)
class Marks(Through):
    """Marks of one kind; ``reach``, if given, is half of a bar up and down through each."""

    shape: Shape = "circle"
    reach: Sequence[float] = ()


@dataclass(frozen=True)
class Stripe:
    """A fill from top to bottom between two values of x; labelled where there is room."""

    low: float
    high: float
    role: str
    text: str = ""
    key: str = ""


@dataclass(frozen=True)
class Rule:
    """A line from top to bottom at a value of x, with words along it."""

    x: float
    role: str
    text: str


@dataclass(frozen=True)
class Label:
    """Words beside a point: where there is room is for the drawing to find."""

    x: float
    y: float
    text: str


Item = Line | Area | Stripe | Rule | Marks | Dots | Label


@dataclass(frozen=True)
class Chart:
    """A diagram.

    Attributes
    ----------
    x, y : Axis
    title : str
        What it is.
    items : tuple of Item
        From the back to the front, areas and stripes behind all others.
    told : str
        What it shows, in a sentence, for whoever does not see it.
    name : str
        Short, of letters and hyphens; unique on a page.
    follows : bool
        A page may move a mark over it.
    """

    x: Axis
    y: Axis
    title: str
    items: tuple[Item, ...] = ()
    told: str = ""
    name: str = "chart"
    follows: bool = False

    def every(self, *kinds: type) -> Iterator[Item]:
        """Yield the items of some kinds."""
        return (item for item in self.items if isinstance(item, kinds))

    def shown(self, shown: Shown) -> Chart:
        """Return the diagram of inside units as a reader sees it: their units, their language."""
        x, y = self.x.kind, self.y.kind
        return replace(
            self,
            x=_axis(self.x, shown),
            y=_axis(self.y, shown),
            title=shown.text(self.title),
            items=tuple(_item(item, x, y, shown) for item in self.items),
            told=shown.text(self.told),
        )


def _axis(axis: Axis, shown: Shown) -> Axis:
    low, high = (shown.convert(axis.kind, v) for v in (axis.low, axis.high))
    return replace(
        axis,
        low=low,
        high=high,
        words=shown.text(axis.words),
        unit=shown.unit(axis.kind),
        comma=DECIMAL[shown.language],
    )


def _item(item: Item, x: str, y: str, shown: Shown) -> Item:
    new: dict[str, Any] = {}
    if isinstance(item, Through):
        new["points"] = tuple((shown.convert(x, u), shown.convert(y, v)) for u, v in item.points)
    if isinstance(item, Marks) and item.reach:
        start = shown.convert(y, 0.0)
        new["reach"] = tuple(shown.convert(y, v) - start for v in item.reach)
    if isinstance(item, Stripe):
        new |= {"low": shown.convert(x, item.low), "high": shown.convert(x, item.high)}
    if isinstance(item, Rule | Label):
        new["x"] = shown.convert(x, item.x)
    if isinstance(item, Label):
        new["y"] = shown.convert(y, item.y)
    for key in ("text", "key"):
        if words := getattr(item, key, ""):
            new[key] = shown.text(words)
    return replace(item, **new)


# how a legend shows what has one shape only
_SIGNS = {Line: "line", Area: "area", Stripe: "area", Dots: "dot"}


class Key(NamedTuple):
    """An entry of a legend."""

    role: str
    shape: str
    words: str


def keys(*charts: Chart) -> list[Key]:
    """Return the legend of charts that are shown together: every entry once, in order."""
    found: dict[str, Key] = {}
    for chart in charts:
        for item in chart.items:
            words = getattr(item, "key", "")
            if not words or words in found:
                continue
            shape = item.shape if isinstance(item, Marks) else _SIGNS[type(item)]
            found[words] = Key(item.role, shape, words)  # type: ignore[union-attr]
    return list(found.values())
