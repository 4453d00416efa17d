"""What the wire bears at its stations in equilibrium: force and moment in the wire's own axes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import apply, cross
from springgeo.equilibrium.newton import Shape
from springgeo.equilibrium.rod import Rod


@dataclass(frozen=True, eq=False)
class Wrenches:
    """Force and moment that the wire beyond a section does to the wire before it, in space.

    Between two nodes the force is constant and the moment linear in the section's place.

    Attributes
    ----------
    s : (n + 1,) float, mm
        Arc length of the nodes on the drawn path.
    force, moment : (n, 3) float, N and N mm
        Of each cell, the moment about its far node ``far``, ``(n, 3) mm``.
    """

    s: Array
    force: Array
    moment: Array
    far: Array

    @classmethod
    def of(cls, rod: Rod, shape: Shape, axes: Array, origin: Array) -> Wrenches:
        """Return the wrenches of a shape, placed in space by ``x -> origin + axes @ x``."""
        R = axes @ shape.R[1:]
        return cls(
            rod.drawn.s,
            apply(R, shape.wrench[:, :3]),
            apply(R, shape.wrench[:, 3:]),
            origin + shape.p[1:] @ axes.T,
        )

    def at(self, s: Array, point: Array) -> tuple[Array, Array]:
        """Return force and moment on sections at arc lengths ``(m,)`` and points ``(m, 3)``."""
        cell = np.clip(np.searchsorted(self.s, s, side="left") - 1, 0, len(self.force) - 1)
        force = self.force[cell]
        return force, self.moment[cell] + cross(self.far[cell] - point, force)


@dataclass(frozen=True, eq=False)
class Reaction:
    """Force and moment of a pin on the spring, in space; N and N mm, ``(3,) float`` each."""

    force: Array
    moment: Array


def reactions(rod: Rod, shape: Shape) -> tuple[Reaction, Reaction]:
    """Return what the pins of A and B do to the spring, in the axes of the pull (+z)."""
    ends = rod.supports
    far = shape.wrench[-1]
    R = shape.R[-1]
    force = R @ far[:3]
    at_b = R @ far[3:] - np.cross(R @ ends.b.offset, force)
    # the wire's wrench at A's node: that of the first cell carried back to A's point
    force_a = shape.R[1] @ shape.wrench[0, :3]
    moment_a = shape.R[1] @ shape.wrench[0, 3:]
    start = ends.a.point(shape.R[0], shape.p[0])
    moment_a = moment_a + np.cross(shape.p[1] - start, force_a)
    return Reaction(-force_a, -moment_a), Reaction(force, at_b)
