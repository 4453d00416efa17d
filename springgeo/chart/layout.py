"""A diagram laid out in a drawing: margins that hold the numbers, and a spot for every label."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.chart.model import Chart, Dots, Label, Line, Marks, Point, Stripe
from springgeo.chart.place import Box, Spot, boxed, place, width

# half the size of a mark, with a little air
_MARK = 6.5


@dataclass(frozen=True)
class Layout:
    """A chart in a drawing of ``wide`` by ``high`` units with letters of ``size``."""

    chart: Chart
    wide: float
    high: float
    size: float
    bare: bool = False

    @cached_property
    def ticks(self) -> tuple[list[float], list[float]]:
        """The values named on x and y."""
        across = max(2, int((self.wide - 60) / (4.2 * self.size)))
        return self.chart.x.ticks(across), self.chart.y.ticks(max(2, int(self.high / 42)))

    @cached_property
    def edges(self) -> Box:
        """The box between the axes; ``bare`` leaves no room for numbers and names."""
        if self.bare:
            return Box(0.0, 0.0, self.wide, self.high)
        x, y = self.ticks
        room = max(width(self.chart.y.tick(v), self.size) for v in y)
        last = width(self.chart.x.tick(x[-1]), self.size) / 2
        return Box(room + 12, 2.1 * self.size, self.wide - last - 2, self.high - 3.4 * self.size)

    def at(self, x: float, y: float) -> Point:
        """Return the place of a point."""
        e = self.edges
        return (
            e.left + self.chart.x.share(x) * (e.right - e.left),
            e.bottom - self.chart.y.share(y) * (e.bottom - e.top),
        )

    def span(self, stripe: Stripe) -> tuple[float, float]:
        """Return where a stripe begins and ends across the drawing."""
        x = self.chart.x
        low, high = (min(max(v, x.low), x.high) for v in (stripe.low, stripe.high))
        return self.at(low, self.chart.y.low)[0], self.at(high, self.chart.y.low)[0]

    @cached_property
    def stripes(self) -> list[tuple[Stripe, float, float]]:
        """The stripes that have room for their words, and where these stand, middle above."""
        found = []
        for s in self.chart.items:
            if isinstance(s, Stripe) and s.text:
                left, right = self.span(s)
                if width(s.text, self.size) < right - left:
                    found.append((s, (left + right) / 2, self.edges.top + self.size))
        return found

    @cached_property
    def spots(self) -> list[tuple[Label, Spot]]:
        """The labels and where each stands."""
        labels = [i for i in self.chart.items if isinstance(i, Label)]
        taken = [boxed(u, v, s.text, "middle", self.size) for s, u, v in self.stripes]
        for item in self.chart.items:
            if isinstance(item, Marks):
                for p in item.points:
                    u, v = self.at(*p)
                    taken.append(Box(u - _MARK, v - _MARK, u + _MARK, v + _MARK))
        wanted = [(*self.at(i.x, i.y), i.text) for i in labels]
        spots = place(wanted, self._inner, taken, self._busy(), self.size)
        return list(zip(labels, spots, strict=True))

    @property
    def _inner(self) -> Box:
        e = self.edges
        return Box(e.left + 3, e.top + 2, e.right, e.bottom - 2)

    def _busy(self) -> npt.NDArray[np.float64]:
        """Return points some units apart along every line."""
        found: list[Point] = []
        for item in self.chart.items:
            if isinstance(item, Dots):
                found += [self.at(*p) for p in item.points[:: max(1, len(item.points) // 800)]]
            elif isinstance(item, Line):
                u, v = np.array([self.at(*p) for p in item.points]).T
                way = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(u), np.diff(v)))])
                steps = np.arange(0.0, way[-1], 4.0)
                found += list(zip(np.interp(steps, way, u), np.interp(steps, way, v), strict=True))
        return np.array(found).reshape(-1, 2)
