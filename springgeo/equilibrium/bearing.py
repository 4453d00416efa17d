"""What the sections of the drawn wire bear at any load of its load curve."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve import Samples
from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import ArcEnds, arc_ends
from springgeo.curve.motion import apply, cross, transposed
from springgeo.equilibrium.cell import Strain
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.natural import node_axes
from springgeo.equilibrium.posed import Shape
from springgeo.equilibrium.solved import Solved


@dataclass(frozen=True, eq=False)
class Bearing:
    """Force and moment on sections of the wire, turned back with the section to where it is drawn.

    So they can be held against the wire's own axes and natural curvature, whatever the load has
    done to its place in space.

    Attributes
    ----------
    curve : LoadCurve
    wire : Samples
        The sections, ``(n,)`` between the contacts, as drawn.
    pressed : (n,) bool
        Sections that bear what pressing coils wind into them as well. A hook and the wire that
        leads to it feel the pull alone.
    solve : callable
        The equilibrium at a load, N, above zero; raises SpecError.
    """

    curve: LoadCurve
    wire: Samples
    pressed: npt.NDArray[np.bool_]
    solve: Callable[[float], Solved]

    def at(self, load: float) -> tuple[Array, Array]:
        """Return force ``(n, 3) N`` and moment about each section's middle, ``(n, 3) N mm``.

        Raises
        ------
        SpecError
            The load is beyond what the wire can be drawn to.
        """
        if not self.curve.is_slight(load):
            return self.borne(self.solve(load).shape)
        least = self.curve.least
        # a straight line from rest, as the load curve has it
        rest, first = (
            self.borne(self.curve.balance.rest),
            self.borne(self.curve.solve(least).shape),
        )
        share = load / least
        return (
            rest[0] + share * (first[0] - rest[0]),
            rest[1] + share * (first[1] - rest[1]),
        )

    @cached_property
    def _cell(self) -> npt.NDArray[np.intp]:
        s = self.curve.balance.rod.drawn.s
        return np.clip(np.searchsorted(s, self.wire.s, side="left") - 1, 0, len(s) - 2)

    @cached_property
    def _drawn(self) -> Array:
        """Axes of the sections as drawn, ``(n, 3, 3)``, as their cells have it."""
        drawn = self.curve.balance.rod.drawn
        axes = node_axes(self.curve.spring.geometry.path, float(drawn.s[0])) @ drawn.R[0].T
        result: Array = axes @ self._poses(drawn.R, drawn.p, drawn.strain).R
        return result

    def borne(self, shape: Shape) -> tuple[Array, Array]:
        """Return force and moment on the sections of a shape, as ``at`` does of a load's."""
        cell, poses = self._cell, self._poses(shape.R, shape.p, shape.strain)
        far = shape.R[cell + 1]
        wrench = shape.wrench[cell]
        rod = self.curve.balance.rod
        if rod.felt(shape.pressing):
            wound_in = rod.pressed(shape.pressing, shape.R, shape.p)[cell]
            wrench = np.where(self.pressed[:, None], wrench, wrench - wound_in)
        force = apply(far, wrench[:, :3])
        moment = apply(far, wrench[:, 3:]) + cross(shape.p[cell + 1] - poses.p, force)
        back = self._drawn @ transposed(poses.R)
        return apply(back, force), apply(back, moment)

    def _poses(self, R: Array, p: Array, strain: Strain) -> ArcEnds:
        """Return the sections' poses: both arcs of their cell as far as they lie in it."""
        cell, drawn = self._cell, self.curve.balance.rod.drawn
        along = np.clip(self.wire.s - drawn.s[cell], 0.0, drawn.length[cell])
        first, last = strain.halves
        half = drawn.length[cell] / 2
        early = arc_ends(np.minimum(along, half), first[cell])
        late = arc_ends(np.maximum(along - half, 0.0), last[cell])
        return ArcEnds(R[cell], p[cell]).then(early).then(late)
