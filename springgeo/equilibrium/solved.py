"""A spring in equilibrium: its shape, its rates, by how much it is longer."""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.equilibrium.posed import Rates, Shape


@dataclass(frozen=True, eq=False)
class Solved:
    """A spring in equilibrium: its ``shape``, and its ``rates`` per newton.

    ``extension``, mm, is that of the distance between the points of pull, the wire's own stretch
    included; ``compliance``, mm/N, of the extension: the tangent of the load curve.
    """

    shape: Shape
    rates: Rates
    extension: float
    compliance: float

    @property
    def load(self) -> float:
        """N."""
        return self.shape.load
