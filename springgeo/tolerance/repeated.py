"""The factor of repeated load of springs that stray: the summary's own model, over arrays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from springgeo.materials import Material
from springgeo.mechanics import fatigue, life
from springgeo.mechanics.value import Array, Value
from springgeo.summary.fatigue.endured import endured_places
from springgeo.summary.fatigue.facts import Cycle
from springgeo.summary.handbook import Handbook


@dataclass(frozen=True)
class Repeated:
    """What the nominal wire endures: strengths are those of its diameter and stray alone."""

    material: Material
    d: float
    peened: bool
    cycles: float

    @classmethod
    def of(cls, book: Handbook) -> Repeated | None:
        """Return that of a spring; None for a static duty, without loads, or for a spectrum."""
        service = book.model.spec.service
        if service.duty == "static" or service.spectrum or not book.points:
            return None
        d = float(book.model.body.wire_diameter)
        return cls(book.model.material, d, service.peened, Cycle(book).cycles)

    def factor(self, name: str, low: Value, high: Value, S_ut: Value) -> Array:
        """Return by how much both stresses of a place may grow; NaN where it is not known.

        Parameters
        ----------
        name : str
            Place: body_shear, hook_bending, hook_torsion.
        low, high, S_ut : float or array, MPa
            Stress at either end of the cycle, and tensile strength, broadcasting.
        """
        places: Mapping[str, life.Endured] = endured_places(
            self.material, self.d, S_ut, self.peened
        )
        # as mounted the lowest load may stress a place more than the highest, or push it
        low, high = np.broadcast_arrays(low, high)
        more = np.abs(low) > np.abs(high)
        low, high = np.where(more, high, low), np.where(more, low, high)
        sign = np.where(high < 0, -1.0, 1.0)
        low, high = sign * low, sign * high
        s_a, s_m = fatigue.alternating(high, low), fatigue.mean(high, low)
        return life.factor(s_a, s_m, self.cycles, places[name])
