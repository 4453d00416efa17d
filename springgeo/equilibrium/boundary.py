"""How the two ends are held: where the pull acts, and what turning each end is left."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from springgeo.curve.frame import Array, cross
from springgeo.curve.motion import skew
from springgeo.ends.protocol import Turning


@dataclass(frozen=True, eq=False)
class Support:
    """One end of the loaded wire.

    Attributes
    ----------
    turning : "free", "kept" or "held"
    offset : (3,) float, mm
        From the wire's last loaded node to the point where the pull acts, in the node's axes: a
        rigid grip. Zero for a hook.
    """

    turning: Turning = "free"
    offset: Array = field(default_factory=lambda: np.zeros(3))

    def point(self, R: Array, p: Array) -> Array:
        """Return where the pull acts, ``(3,) mm``, at a pose of the node."""
        at: Array = p + R @ self.offset
        return at

    def carrier(self, R: Array, drawn: Array) -> Array:
        """Return T, ``(6, 6)``: motion of the point in space and turning to the node's twist.

        The last turning is that about the pull, as ``facing`` has it.
        """
        axes, _ = facing(R, drawn)
        T = np.zeros((6, 6))
        T[:3, :3] = R.T
        T[3:, 3:] = R.T @ axes
        T[:3, 3:] = R.T @ skew(R @ self.offset) @ axes
        return T

    def couple(self, R: Array, drawn: Array, wrench: Array) -> Array:
        """Return the couple of the support in space, ``(3,) N mm``, of a wrench on its node."""
        whole: Array = R @ wrench[3:] - cross(R @ self.offset, R @ wrench[:3])
        if self.turning == "held":
            return whole
        axis = facing(R, drawn)[0][:, 2]
        return axis * float(axis @ whole) if self.turning == "kept" else np.zeros(3)

    def load(self, R: Array, pull: Pull) -> tuple[Array, Array]:
        """Return a dead load on the point as the node's wrench, and its slope.

        ``(6,)`` and ``(6, 6)``, the latter per twist of the node.
        """
        force, couple = R.T @ pull.force, R.T @ pull.couple
        slope = np.zeros((6, 6))
        slope[:3, 3:] = skew(force)
        slope[3:, 3:] = skew(self.offset) @ slope[:3, 3:] + skew(couple)
        return np.concatenate([force, cross(self.offset, force) + couple]), slope


@dataclass(frozen=True, eq=False)
class Pull:
    """What a load of one newton is: a force in space, and a couple if there is one.

    Attributes
    ----------
    force : (3,) float
    couple : (3,) float, mm
    """

    force: Array = field(default_factory=lambda: np.array([0.0, 0.0, 1.0]))
    couple: Array = field(default_factory=lambda: np.zeros(3))

    def times(self, load: float) -> Pull:
        """Return the load of so many newtons."""
        return Pull(load * self.force, load * self.couple)


@dataclass(frozen=True, eq=False)
class Supports:
    """Both ends: A's point held in space, B's pulled along the chord and free to move aside."""

    a: Support
    b: Support

    @property
    def held_a(self) -> list[int]:
        """Held motions of A: its point, and turning; the last is about the pull.

        Where neither end is kept from turning about the pull, A is: no moment comes of it, for
        the pull passes through both points.
        """
        about_z = self.a.turning == "kept" or self.b.turning == "free"
        return [0, 1, 2, *_turns(self.a.turning, about_z)]

    @property
    def held_b(self) -> list[int]:
        """Held motions of B."""
        return _turns(self.b.turning, self.b.turning == "kept")


def _turns(turning: Turning, about_z: bool) -> list[int]:
    if turning == "held":
        return [3, 4, 5]
    return [5] if about_z else []


def facing(R: Array, drawn: Array) -> tuple[Array, float]:
    """Return how an end has turned about the pull (+z) from its drawn pose.

    A level direction across the wire, which for a hook is that of its pin, moves with the node;
    its share across its drawn direction counts. It is a function of the pose alone, whatever the
    way that led there.

    Returns
    -------
    (3, 3) float
        Axes of turning: two that leave that share as it is, and the one that changes it.
    float
        The turning about the last axis that would bring the share to zero, rad.
    """
    across = np.array([-drawn[1, 0], drawn[0, 0], 0.0])
    size = float(np.hypot(across[0], across[1]))
    across = across / size if size > 1e-6 else _level(drawn[:, 1])
    side = np.array([-across[1], across[0], 0.0])
    now = R @ (drawn.T @ across)
    axis = cross(now, side)
    slope = float(np.sqrt(axis @ axis))
    axis = axis / slope
    first = cross(axis, across)
    first = first / np.sqrt(first @ first)
    return np.column_stack([cross(first, axis), first, axis]), -float(now @ side) / slope


def _level(v: Array) -> Array:
    flat = np.array([v[0], v[1], 0.0])
    unit: Array = flat / np.sqrt(flat @ flat)
    return unit
