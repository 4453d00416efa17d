"""Where the load enters the wire."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array


@dataclass(frozen=True, eq=False)
class Contacts:
    """The two contact points; the load acts along the line from A to B, pulling them apart.

    Wire before ``s_a`` and after ``s_b`` carries nothing.

    Attributes
    ----------
    point_a, point_b : (3,) float, mm
        A point on the line of action at each end: the wire's centreline at the contact for a
        hook, a point on the axis for a fitted end.
    s_a, s_b : float, mm
        Arc lengths at which the load enters the wire, ``s_a < s_b``.

    Raises
    ------
    ValueError
        The points coincide, or the arc lengths are not in order.
    """

    point_a: Array
    point_b: Array
    s_a: float
    s_b: float

    def __post_init__(self) -> None:
        for name in ("point_a", "point_b"):
            value = np.array(getattr(self, name), dtype=float)
            if value.shape != (3,):
                raise ValueError(f"{name} needs three coordinates, got shape {value.shape}")
            value.setflags(write=False)
            object.__setattr__(self, name, value)
        if not self.s_a < self.s_b:
            raise ValueError(f"s_a = {self.s_a:g} must lie before s_b = {self.s_b:g}")
        if not np.linalg.norm(self.point_b - self.point_a) > 0.0:
            raise ValueError("the two contact points coincide: the load has no direction")

    @property
    def direction(self) -> Array:
        """Unit vector from A to B, ``(3,) float``: the force on the wire at B for F > 0."""
        span = self.point_b - self.point_a
        result: Array = span / np.linalg.norm(span)
        return result
