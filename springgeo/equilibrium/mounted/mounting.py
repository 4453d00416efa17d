"""How a spring is mounted where its pull is not straight: pins out of line, skew pins, weight."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import rotation, rotation_vector
from springgeo.equilibrium.boundary import Support, Supports
from springgeo.equilibrium.mounted.weight import Beyond, Weight
from springgeo.equilibrium.natural import node_axes
from springgeo.equilibrium.rod import Rod
from springgeo.spring.geometry import Geometry

# m/s²: standard gravity, ISO 80000-3
GRAVITY = 9.80665


def _none() -> Array:
    return np.zeros(3)


def _straight() -> Array:
    return np.eye(3)


@dataclass(frozen=True, eq=False)
class Mounting:
    """Where pins stand beside where the drawn spring has them, in the drawn spring's frame.

    Attributes
    ----------
    offset : (3,) float, mm
        By how much B's pin stands aside.
    turned_a, turned_b : (3, 3) float
        How the pins of A and B are turned. An end follows as far as its pin holds it; one that
        turns freely on its contact does not.
    weight : (3,) float, N/mm
        Of a length of wire.
    """

    offset: Array = field(default_factory=_none)
    turned_a: Array = field(default_factory=_straight)
    turned_b: Array = field(default_factory=_straight)
    weight: Array = field(default_factory=_none)

    def share(self, t: float) -> Mounting:
        """Return the mounting on the way from a straight one, ``t`` from 0 to 1."""
        a, b = (rotation(t * rotation_vector(R[None]))[0] for R in (self.turned_a, self.turned_b))
        return Mounting(t * self.offset, a, b, t * self.weight)

    @property
    def is_straight(self) -> bool:
        """Whether nothing is out of line, skew or heavy."""
        turned = self.turned_a - _straight(), self.turned_b - _straight()
        return not any(np.any(x) for x in (self.offset, self.weight, *turned))

    def on(self, rod: Rod, geometry: Geometry) -> Rod:
        """Return the rod of a spring, mounted so; ``rod`` is mounted straight."""
        upright = rod.drawn.R[0] @ node_axes(geometry.path, float(rod.drawn.s[0])).T
        ends = rod.supports

        def support(at: Support, turned: Array) -> Support:
            return replace(at, turned=upright @ turned @ upright.T)

        supports = Supports(
            support(ends.a, self.turned_a),
            support(ends.b, self.turned_b),
            (upright @ self.offset)[:2],
        )
        weight = None
        if np.any(self.weight):
            weight = Weight.of(rod.drawn, upright @ self.weight, _beyond(rod, geometry))
        return replace(rod, supports=supports, weight=weight)


def wire_weight(wire_diameter: float, density: float, down: Array) -> Array:
    """Return the weight of a length of wire, ``(3,) N/mm``, along a unit vector; kg/mm³."""
    return GRAVITY * density * math.pi * wire_diameter**2 / 4 * down


def _beyond(rod: Rod, geometry: Geometry) -> tuple[Beyond, Beyond]:
    """Return the wire beyond the loaded nodes; it moves with them."""
    path, s = geometry.path, rod.drawn.s
    found = []
    for first, last, at in ((0.0, float(s[0]), s[0]), (float(s[-1]), path.length, s[-1])):
        length = max(last - first, 0.0)
        arm = np.zeros(3)
        if length > 0:
            # Gauss's rule with so many points that a whole coil is met
            x, w = np.polynomial.legendre.leggauss(64)
            point = path.point(first + length * (x + 1) / 2)
            middle = w @ point / 2 - path.point(np.array([at]))[0]
            arm = node_axes(path, float(at)).T @ middle
        found.append(Beyond(length, arm))
    return found[0], found[1]
