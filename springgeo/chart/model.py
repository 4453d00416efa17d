"""A diagram as plain data: two axes and what lies between them. Nothing here draws."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from springgeo.chart.ticks import linear, logarithmic

Point = tuple[float, float]
Shape = Literal["circle", "square", "diamond", "triangle", "wedge", "plus", "cross", "ring"]


@dataclass(frozen=True)
class Axis:
    """A range of values, what they are, in words with their unit, and whether it is a log scale."""

    low: float
    high: float
    words: str
    log: bool = False

    def share(self, value: float) -> float:
        """Return where a value lies between low (0) and high (1)."""
        if self.log:
            return math.log(value / self.low) / math.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)

    def ticks(self, most: int = 6) -> list[float]:
        """Return round values to name, at most so many on a plain scale."""
        return (logarithmic if self.log else linear)(self.low, self.high, most)


@dataclass(frozen=True)
class Line:
    """A line through points; ``key`` is its entry in the legend, if it has one."""

    points: Sequence[Point]
    role: str
    key: str = ""


@dataclass(frozen=True)
class Area:
    """A filled polygon, behind everything else."""

    points: Sequence[Point]
    role: str
    key: str = ""


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
class Marks:
    """Marks of one kind; ``reach``, if given, is half of a bar up and down through each."""

    points: Sequence[Point]
    role: str
    shape: Shape = "circle"
    key: str = ""
    reach: Sequence[float] = ()


@dataclass(frozen=True)
class Dots:
    """Very many small marks."""

    points: Sequence[Point]
    role: str
    key: str = ""


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
            shape = (
                item.shape
                if isinstance(item, Marks)
                else "dot"
                if isinstance(item, Dots)
                else "area"
                if isinstance(item, Area | Stripe)
                else "line"
            )
            found[words] = Key(item.role, shape, words)  # type: ignore[union-attr]
    return list(found.values())
