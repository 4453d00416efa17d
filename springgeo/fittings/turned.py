"""A turned part: a profile about the axis, and perhaps a round rod that goes on from its top."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from springgeo.curve import Path, tube_box
from springgeo.curve.frame import Array


@dataclass(frozen=True, eq=False)
class Turned:
    """A solid of revolution about z with flat ends; a rod may grow out of its upper end.

    Attributes
    ----------
    profile : tuple of (radius, z), mm
        From the lower end to the upper, radii above zero, z never falling.
    rod : Path or None
        Centreline of a rod of the profile's last radius; starts on the axis at the profile's
        last z, along +z.

    Raises
    ------
    ValueError
        The profile is not as described.
    """

    profile: tuple[tuple[float, float], ...]
    rod: Path | None = None

    def __post_init__(self) -> None:
        r, z = np.array(self.profile).T
        if len(r) < 2 or not (r > 0).all() or (np.diff(z) < 0).any() or not z[-1] > z[0]:
            raise ValueError("a profile needs radii above zero at heights that do not fall")

    @property
    def rod_radius(self) -> float:
        """Radius of the rod, mm."""
        return self.profile[-1][0]

    @cached_property
    def volume(self) -> float:
        """Closed form, mm³: frustums, and the rod's section times its length (Pappus)."""
        r, z = np.array(self.profile).T
        frustums = np.pi / 3 * np.diff(z) * (r[:-1] ** 2 + r[:-1] * r[1:] + r[1:] ** 2)
        rod = 0.0 if self.rod is None else math.pi * self.rod_radius**2 * self.rod.length
        return float(frustums.sum()) + rod

    def box(self, axes: Array, origin: Array) -> Array:
        """Return the exact bounding box ``(2, 3) float, mm`` after ``x -> axes @ x + origin``."""
        r, z = np.array(self.profile).T
        centre = z[:, None] * axes[:, 2] + origin
        # a disc of radius r across the axis a reaches r sqrt(1 - a_i²) along direction i
        half = r[:, None] * np.sqrt(np.maximum(0.0, 1.0 - axes[:, 2] ** 2))
        own = np.array([(centre - half).min(axis=0), (centre + half).max(axis=0)])
        if self.rod is None:
            return own
        rod = tube_box(self.rod.moved(axes, origin), self.rod_radius)
        return np.array([np.minimum(own[0], rod[0]), np.maximum(own[1], rod[1])])
