"""What the wire bears at its stations in equilibrium: force and moment in the wire's own axes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import apply, cross
from springgeo.equilibrium.posed import Shape, beside_pins
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
    # on the nodes of both ends, in their axes: the wire's wrench, less what else bears there
    ends, beside = rod.supports, beside_pins(rod, shape)
    on_a, on_b = -carried_back(shape) - beside[0], shape.wrench[-1] - beside[1]
    found = []
    for R, at, wrench in ((shape.R[0], ends.a, on_a), (shape.R[-1], ends.b, on_b)):
        force = R @ wrench[:3]
        found.append(Reaction(force, R @ wrench[3:] - np.cross(R @ at.offset, force)))
    return found[0], found[1]


def carried_back(shape: Shape) -> Array:
    """Return the wire's wrench at A's node, ``(6,)`` in its axes: that of the first cell."""
    turn, far = shape.R[0].T @ shape.R[1], shape.wrench[0]
    force = turn @ far[:3]
    arm = shape.R[0].T @ (shape.p[1] - shape.p[0])
    return np.concatenate([force, turn @ far[3:] + np.cross(arm, force)])
