"""The wire's own weight: dead forces on the nodes of the rod."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import apply, cross, skew, transposed
from springgeo.equilibrium.natural import Drawn


@dataclass(frozen=True, eq=False)
class Weight:
    """Half of each cell's weight on either of its nodes; wire beyond the ends goes with the end.

    Attributes
    ----------
    force : (n + 1, 3) float, N
        In space, whatever the wire does.
    arm : (n + 1, 3) float, mm
        From the node to where its force acts, in the node's axes.
    """

    force: Array
    arm: Array

    @classmethod
    def of(cls, wire: Drawn, per_length: Array, beyond: tuple[Beyond, Beyond]) -> Weight:
        """Return the weight of a wire.

        Parameters
        ----------
        wire : Drawn
        per_length : (3,) float, N/mm
            Weight of a length of wire, in space.
        beyond : (Beyond, Beyond)
            The wire beyond the loaded nodes of A and B.
        """
        length = np.zeros(len(wire.s))
        length[:-1] += wire.length / 2
        length[1:] += wire.length / 2
        arm = np.zeros((len(length), 3))
        for node, more in zip((0, -1), beyond, strict=True):
            arm[node] = more.length / (length[node] + more.length) * more.arm
            length[node] += more.length
        return cls(length[:, None] * per_length, arm)

    @property
    def whole(self) -> Array:
        """The weight of all, ``(3,) N``."""
        total: Array = self.force.sum(axis=0)
        return total

    def on_nodes(self, R: Array) -> Array:
        """Return the wrench on each node in its axes, ``(n + 1, 6)``."""
        force = apply(transposed(R), self.force)
        return np.concatenate([force, cross(self.arm, force)], axis=1)

    def slopes(self, R: Array) -> Array:
        """Return the change of these wrenches per twist of the node, ``(n + 1, 6, 6)``."""
        turned = skew(apply(transposed(R), self.force))
        out = np.zeros((len(R), 6, 6))
        out[:, :3, 3:] = turned
        out[:, 3:, 3:] = skew(self.arm) @ turned
        return out

    def wrench(self, R: Array, p: Array) -> Array:
        """Return the wire's wrench at the far end of each cell, ``(n, 6)``, in the node's axes.

        What the weight beyond the section alone calls for.
        """
        at = p + apply(R, self.arm)
        beyond = np.cumsum(self.force[::-1], axis=0)[::-1][1:]
        moment = np.cumsum(cross(at, self.force)[::-1], axis=0)[::-1][1:]
        moment = moment - cross(p[1:], beyond)
        back = transposed(R[1:])
        return np.concatenate([apply(back, beyond), apply(back, moment)], axis=1)


@dataclass(frozen=True, eq=False)
class Beyond:
    """Wire beyond a loaded node: its length, mm, and its middle in the node's axes, ``(3,) mm``."""

    length: float
    arm: Array
