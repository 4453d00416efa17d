"""Stress at stations of the wire from section forces, wherever these come from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Self

import numpy as np
import numpy.typing as npt

from springgeo.curve import Samples
from springgeo.curve.frame import Array
from springgeo.statics.around import greatest
from springgeo.statics.coefficients import law
from springgeo.statics.felt import Felt, felt
from springgeo.statics.forces import resolve
from springgeo.statics.frames import Frames
from springgeo.statics.section_stress import SectionStress
from springgeo.statics.surface import Answer, answer, surface


@dataclass(frozen=True, eq=False)
class Bent:
    """Sections of wire with the curvature they feel, ready for any forces on them; mm.

    ``frame``: n toward the inside of the curvature that bending feels; ``kappa`` (n,), 1/mm;
    ``nu``, Poisson's ratio.
    """

    frame: Frames
    felt: Felt
    kappa: Array
    wire_diameter: float
    nu: float

    @classmethod
    def of(
        cls,
        wire: Samples,
        wire_diameter: float,
        nu: float,
        held: npt.NDArray[np.bool_] | None = None,
    ) -> Self:
        """Return the sections at stations; ``held`` are those asked for, as in ``stresses``."""
        if held is None:
            held = np.ones(len(wire.s), dtype=bool)
        data = law(round(nu, 12))
        every = felt(wire, wire_diameter, data.rates)[held]
        # real numbers would suffice for the size; the direction turns the frame
        z = np.einsum("k,kn->n", data.shown, every.before + every.after)
        size = np.abs(z)
        curved = size > 1e-9 * size.max(initial=0.0)
        here = every.turned(np.where(curved, z / np.where(curved, size, 1.0), 1.0))
        frame = Frames(wire.tangent[held], here.n, here.b)
        return cls(frame, here, size * (2 / wire_diameter), wire_diameter, nu)

    def __getitem__(self, rows: npt.NDArray[np.bool_]) -> Bent:
        """Return some of the sections; they feel what they felt among the others."""
        f = self.frame
        frame = Frames(f.t[rows], f.n[rows], f.b[rows])
        return Bent(frame, self.felt[rows], self.kappa[rows], self.wire_diameter, self.nu)

    @cached_property
    def _answer(self) -> Answer:
        return answer(self.felt, self.nu)

    def under(self, force: Array, moment: Array) -> SectionStress:
        """Return the stresses that forces and moments ``(3,)`` or ``(n, 3)`` cause."""
        forces = resolve(force, moment, self.frame)
        found = greatest(surface(forces, self._answer, self.wire_diameter, self.nu))
        return SectionStress(self.felt, self.kappa, forces, found)


def stresses(
    wire: Samples,
    force: Array,
    moment: Array,
    wire_diameter: float,
    nu: float,
    held: npt.NDArray[np.bool_] | None = None,
) -> SectionStress:
    """Return the stresses that forces and moments on the sections cause.

    Nothing is assumed about where these come from: a hook's pull, a moment held by a pin, or an
    equilibrium of the loaded shape, whose stations ``wire`` then are.

    Parameters
    ----------
    wire : Samples
        ``(n,)`` stations in order, with both sides of every joint; the curvature is felt as far
        as 1.5 d to either side, so the stations should reach as far beyond those asked for.
    force : (3,) or (n, 3) float, N
        What the wire beyond a station does to the wire before it.
    moment : (3,) or (n, 3) float, N mm
        Likewise, about the station's own point.
    wire_diameter : float, mm
    nu : float
        Poisson's ratio.
    held : (n,) bool, optional
        The stations asked for; all if left out.
    """
    bent = Bent.of(wire, wire_diameter, nu, held)
    if held is not None:
        force, moment = (v if v.ndim == 1 else v[held] for v in (force, moment))
    return bent.under(force, moment)
