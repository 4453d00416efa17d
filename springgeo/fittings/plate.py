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
        """Return the exact bounding box ``(2, 3) float, mm`` after ``x -> axes @ x + origin``."""
        corners = np.array([(x, 0.0, z) for x, z in (*self.left, *self.right)]) @ axes.T
        # along direction i the round end reaches furthest at (a_ix, a_iz), if that looks upwards
        across, along = axes[:, 0], axes[:, 2]
        arc = self.centre * along + np.copysign(self.radius * np.hypot(across, along), along)
        low = np.where(along < 0, np.minimum(corners.min(axis=0), arc), corners.min(axis=0))
        high = np.where(along > 0, np.maximum(corners.max(axis=0), arc), corners.max(axis=0))
        half = self.thickness / 2 * np.abs(axes[:, 1])
        return np.array([low - half, high + half]) + origin
