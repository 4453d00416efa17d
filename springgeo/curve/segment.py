"""What every segment of a centreline can tell: point, tangent, curvature over arc length."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, Self

import numpy as np

from springgeo.curve.frame import Array, Frame

Trace = Literal["point", "tangent", "curvature"]
ALL: tuple[Trace, ...] = ("point", "tangent", "curvature")


@dataclass(frozen=True, eq=False, kw_only=True)
class Segment(ABC):
    """A smooth piece of curve, parametrised by arc length from 0 to ``length``.

    A kind of curve is a subclass that writes down ``length`` and the four ``_local`` functions
    in its own axes; placing, mirroring and reversing are done here, once.
    All functions take ``s`` as ``(n,) float, mm`` and return ``(n, 3) float``.
    """

    frame: Frame = field(default_factory=Frame)
    backward: bool = False

    @property
    @abstractmethod
    def length(self) -> float:
        """Arc length, mm."""

    @abstractmethod
    def _point(self, s: Array) -> Array: ...

    @abstractmethod
    def _tangent(self, s: Array) -> Array: ...

    @abstractmethod
    def _curvature(self, s: Array) -> Array: ...

    @abstractmethod
    def _normal(self, s: Array) -> Array: ...

    def _own(self, s: Array) -> Array:
        s = np.atleast_1d(np.asarray(s, dtype=float))
        return self.length - s if self.backward else s

    def point(self, s: Array) -> Array:
        """Return positions, mm."""
        return self.frame.to_world(self._point(self._own(s)))

    def tangent(self, s: Array) -> Array:
        """Return unit tangents in the direction of growing ``s``."""
        t = self.frame.turn(self._tangent(self._own(s)))
        return -t if self.backward else t

    def curvature(self, s: Array) -> Array:
        """Return curvature vectors (toward the centre of curvature), 1/mm."""
        return self.frame.turn(self._curvature(self._own(s)))

    def normal(self, s: Array) -> Array:
        """Return a unit vector across the wire that turns smoothly along the segment."""
        return self.frame.turn(self._normal(self._own(s)))

    def traced(self, s: Array, names: Sequence[Trace] = ALL) -> tuple[Array, ...]:
        """Return positions, unit tangents and curvature vectors at once, or those named."""
        return tuple(getattr(self, name)(s) for name in names)

    def placed(self, s: Array) -> tuple[Array, Array, Array]:
        """Return positions, unit tangents and normals at once."""
        return self.point(s), self.tangent(s), self.normal(s)

    def moved(self, axes: Array, origin: Array) -> Self:
        """Return the segment under ``x -> origin + axes @ x`` (a mirror is allowed)."""
        return replace(self, frame=self.frame.moved(axes, origin))

    def reversed(self) -> Self:
        """Return the same curve run through from its other end."""
        return replace(self, backward=not self.backward)

    @property
    def max_curvature(self) -> float:
        """Greatest curvature, 1/mm, from 257 samples (exact for lines, arcs and helices)."""
        s = np.linspace(0.0, self.length, 257)
        return float(np.linalg.norm(self._curvature(s), axis=1).max())
