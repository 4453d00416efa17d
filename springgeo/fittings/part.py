"""A named part with its place: what a fitted end adds to the wire."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.fittings.plate import Plate
from springgeo.fittings.turned import Turned


@dataclass(frozen=True, eq=False)
class Part:
    """A solid of its own beside the wire.

    Attributes
    ----------
    name : str
        Within its end: ``swivel``, ``plug``; in a whole spring ``b.swivel``.
    form : Turned or Plate
        In the part's own frame.
    axes, origin : (3, 3) and (3,) float
        Where that frame is: columns are its axes (a mirror image in a left-hand spring), mm.
    sizes : tuple of (words, value)
        What a maker needs to know of it, as built: mm.
    """

    name: str
    form: Turned | Plate
    axes: Array = field(default_factory=lambda: np.eye(3))
    origin: Array = field(default_factory=lambda: np.zeros(3))
    sizes: tuple[tuple[str, float], ...] = ()

    def moved(self, axes: Array, origin: Array) -> Part:
        """Return the part after ``x -> axes @ x + origin``."""
        return replace(self, axes=axes @ self.axes, origin=axes @ self.origin + origin)

    def placed(self, points: Array) -> Array:
        """Return points ``(n, 3) float, mm`` of the part's own frame in the spring's frame."""
        result: Array = points @ self.axes.T + self.origin
        return result

    @property
    def mirrored(self) -> bool:
        """Whether the placement is a mirror image."""
        return bool(np.linalg.det(self.axes) < 0)

    @property
    def volume(self) -> float:
        """mm³."""
        return self.form.volume

    @property
    def box(self) -> Array:
        """Bounding box in the spring's frame, ``(2, 3) float, mm``."""
        return self.form.box(self.axes, self.origin)

    @property
    def rod(self) -> tuple[Path, float] | None:
        """Centreline, in the spring's frame, and radius, mm, of the round rod, if it has one."""
        if not isinstance(self.form, Turned) or self.form.rod is None:
            return None
        return self.form.rod.moved(self.axes, self.origin), self.form.rod_radius
