"""Curves with no closed arc length: the table that turns arc length into the own parameter."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Self

import numpy as np

from springgeo.curve.frame import Array, unit
from springgeo.curve.segment import ALL, Segment, Trace

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_CELLS = 64
# cached properties that depend neither on the placement nor on the direction
_TABLES = ("_table", "_inverse")
# below this the parameter is at rounding error
_SETTLED = 1e-15


@dataclass(frozen=True, eq=False, kw_only=True)
class NumericSegment(Segment):
    """A curve given by position and two derivatives over u in 0..1.

    Arc length is integrated by 16-point Gauss–Legendre on 64 cells and inverted by Newton's
    method; both are at rounding error for the smooth curves used here.
    """

    @abstractmethod
    def _derivatives(self, u: Array) -> tuple[Array, Array, Array]:
        """Return position and its first and second derivative over u, each ``(n, 3)``."""

    def _speed(self, u: Array) -> Array:
        """Return the length of the first derivative, ``(n,)``."""
        result: Array = np.linalg.norm(self._derivatives(u)[1], axis=1)
        return result

    @cached_property
    def _table(self) -> tuple[Array, Array]:
        edges = np.linspace(0.0, 1.0, _CELLS + 1)
        cells = self._span(edges[:-1], edges[1:])
        return edges, np.concatenate([[0.0], np.cumsum(cells)])

    def moved(self, axes: Array, origin: Array) -> Self:
        """Return the segment under ``x -> origin + axes @ x`` (a mirror is allowed)."""
        return self._handed_on(super().moved(axes, origin))

    def reversed(self) -> Self:
        """Return the same curve run through from its other end."""
        return self._handed_on(super().reversed())

    def _handed_on(self, other: Self) -> Self:
        """Return ``other`` with the tables of this curve, which are in the curve's own axes."""
        for name in _TABLES:
            if name in self.__dict__:
                other.__dict__[name] = self.__dict__[name]
        return other

    def _span(self, low: Array, high: Array) -> Array:
        half = (high - low) / 2
        u = ((low + high) / 2)[:, None] + half[:, None] * _NODES
        speed = self._speed(u.ravel()).reshape(u.shape)
        result: Array = (speed @ _WEIGHTS) * half
        return result

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return float(self._table[1][-1])

    def _parameter(self, s: Array) -> Array:
        edges, lengths = self._table
        cell = np.clip(np.searchsorted(lengths, s, side="right") - 1, 0, _CELLS - 1)
        low = edges[cell]
        u = np.interp(s, lengths, edges)
        for _ in range(8):
            speed = self._speed(u)
            step = (lengths[cell] + self._span(low, u) - s) / speed
            u = u - step
            if np.abs(step).max(initial=0.0) <= _SETTLED:
                break
        return u

    def _point(self, s: Array) -> Array:
        return self._derivatives(self._parameter(s))[0]

    def _tangent(self, s: Array) -> Array:
        return unit(self._derivatives(self._parameter(s))[1])

    def _curvature(self, s: Array) -> Array:
        _, first, second = self._derivatives(self._parameter(s))
        return _curvature(first, second)

    def traced(self, s: Array, names: Sequence[Trace] = ALL) -> tuple[Array, ...]:
        """Return positions, unit tangents and curvature vectors: the parameter is found once."""
        point, first, second = self._derivatives(self._parameter(self._own(s)))
        along = self.frame.turn(unit(first))
        found = {
            "point": self.frame.to_world(point),
            "tangent": -along if self.backward else along,
            "curvature": self.frame.turn(_curvature(first, second)),
        }
        return tuple(found[name] for name in names)


def _curvature(first: Array, second: Array) -> Array:
    """Return curvature vectors ``(n, 3)`` from the derivatives over any parameter."""
    speed2 = np.sum(first**2, axis=1, keepdims=True)
    along = np.sum(first * second, axis=1, keepdims=True) / speed2
    curvature: Array = (second - first * along) / speed2
    return curvature
