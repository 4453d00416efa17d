"""A flat part cut from sheet: straight-edged sides, a round end with a hole."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array


@dataclass(frozen=True, eq=False)
class Plate:
    """A sheet part in the xz plane, half its thickness to either side.

    Attributes
    ----------
    left, right : tuple of (x, z), mm
        The two sides from the bottom up, x below and above zero, z rising; both start at the
        same z and end at ``(∓radius, centre)``, where the round end follows.
    centre : float, mm
        Height of the centre of the round end and of the hole.
    radius, hole : float, mm
        Of the round end and of the hole.
    thickness : float, mm

    Raises
    ------
    ValueError
        The outline is not as described.
    """

    left: tuple[tuple[float, float], ...]
    right: tuple[tuple[float, float], ...]
    centre: float
    radius: float
    hole: float
    thickness: float

    def __post_init__(self) -> None:
        for side, sign in ((self.left, -1.0), (self.right, 1.0)):
            x, z = np.array(side).T
            if (sign * x <= 0).any() or (np.diff(z) <= 0).any():
                raise ValueError("a side of a plate must rise and keep to its own half")
            if side[-1] != (sign * self.radius, self.centre):
                raise ValueError("a side of a plate must end where its round end starts")
        if self.left[0][1] != self.right[0][1] or not 0 < self.hole < self.radius:
            raise ValueError("a plate needs a level foot, and a hole within its round end")

    @cached_property
    def area(self) -> float:
        """Of the sheet, closed form, mm²: polygon, half disc, less the hole."""
        x, z = np.array([*self.right, *reversed(self.left)]).T
        polygon = 0.5 * float(np.dot(x, np.roll(z, -1)) - np.dot(np.roll(x, -1), z))
        return polygon + math.pi * (self.radius**2 / 2 - self.hole**2)

    @property
    def volume(self) -> float:
        """Closed form, mm³."""
        return self.area * self.thickness

    def box(self, axes: Array, origin: Array) -> Array:
        """Return the bounding box ``(2, 3) float, mm`` after ``x -> axes @ x + origin``.

        Exact while z stays the axis and the round end is no wider than the sides.
        """
        rim = [*self.left, *self.right, (0.0, self.centre + self.radius)]
        half = self.thickness / 2
        own = np.array([(x, y, z) for x, z in rim for y in (-half, half)])
        points = own @ axes.T + origin
        return np.array([points.min(axis=0), points.max(axis=0)])
