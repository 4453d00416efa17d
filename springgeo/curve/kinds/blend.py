"""A quintic blend: joins two curves in position, tangent and curvature (G2)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array, unit
from springgeo.curve.numeric import NumericSegment

# quintic Hermite basis as polynomial coefficients, lowest power first:
# value, first and second derivative at u = 0, then the same at u = 1
_BASIS = np.array(
    [
        [1, 0, 0, -10, 15, -6],
        [0, 1, 0, -6, 8, -3],
        [0, 0, 0.5, -1.5, 1.5, -0.5],
        [0, 0, 0, 10, -15, 6],
        [0, 0, 0, -4, 7, -3],
        [0, 0, 0, 0.5, -1, 0.5],
    ]
)


@dataclass(frozen=True, eq=False, kw_only=True)
class Blend(NumericSegment):
    """The quintic polynomial through six vectors ``control`` ``(6, 3) float``.

    They are position, first and second derivative at the start, then at the end, in the local
    frame. ``Blend.joining`` chooses them from geometry.
    """

    control: Array

    @classmethod
    def joining(
        cls, start: tuple[Array, Array, Array], end: tuple[Array, Array, Array], speed: float
    ) -> Blend:
        """Return the blend between two (point, unit tangent, curvature vector) triples.

        ``speed`` (mm per unit parameter) is the fullness; the chord length is a good start.
        """
        rows = [x for p, t, k in (start, end) for x in (p, speed * t, speed**2 * k)]
        return cls(control=np.array(rows))

    def _derivatives(self, u: Array) -> tuple[Array, Array, Array]:
        powers = np.vander(u, 6, increasing=True)
        order = np.arange(6)
        first = np.zeros_like(powers)
        first[:, 1:] = powers[:, :-1] * order[1:]
        second = np.zeros_like(powers)
        second[:, 2:] = powers[:, :-2] * (order[2:] * order[1:-1])
        weights = _BASIS.T @ self.control
        return powers @ weights, first @ weights, second @ weights

    def _normal(self, s: Array) -> Array:
        t = self._tangent(s)
        chord = self.control[3] - self.control[0]
        aside = np.cross(self.control[1], chord)
        if np.linalg.norm(aside) < 1e-9 * np.linalg.norm(chord) ** 2:
            aside = np.eye(3)[int(np.argmin(np.abs(chord)))]
        return unit(aside - t * (t @ aside)[:, None])
